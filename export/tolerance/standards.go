package tolerance

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
)

// Standards says by which standard sheets are sold: by the name of their material, or
// under the empty name for all others. Those it does not name have the usual one.
type Standards map[string]parts.BoardStandard

// ReadStandards reads names of standards, EN 315, for all materials or, MDF 12=EN 622-1, for
// one. Case and blanks of a standard's name do not matter. The error says what is no
// standard, is not a material of the job, or is said twice.
func ReadStandards(list []string, job *parts.Job) (Standards, error) {
	out := Standards{}
	for _, text := range list {
		material, name := "", text
		// A material may have an equals sign in its name, a standard has none.
		if at := strings.LastIndex(text, "="); at >= 0 {
			material, name = strings.TrimSpace(text[:at]), text[at+1:]
			if job.Material(material) == nil {
				return nil, fmt.Errorf("--standard %.80q: the job has no material %.40q", text, material)
			}
		}
		st, err := named(name)
		if err != nil {
			return nil, err
		}
		if _, said := out[material]; said {
			return nil, fmt.Errorf("--standard %.80q: says again what was said", text)
		}
		out[material] = st
	}
	return out, nil
}

// named returns the standard of a name.
func named(name string) (parts.BoardStandard, error) {
	plain := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	list := parts.BoardStandards()
	at := slices.IndexFunc(list, func(s parts.BoardStandard) bool { return plain(s.Name) == plain(name) })
	if at < 0 {
		var known []string
		for _, s := range list {
			known = append(known, fmt.Sprintf("%q", s.Name))
		}
		return parts.BoardStandard{}, fmt.Errorf("--standard %.40q: use %s", name, strings.Join(known, ", "))
	}
	return list[at], nil
}

// of returns the standard of a stock.
func (s Standards) of(stock *parts.Stock) parts.BoardStandard {
	for _, name := range []string{stock.Material, ""} {
		if st, ok := s[name]; ok {
			return st
		}
	}
	return parts.UsualStandard(stock.Length, stock.Width)
}
