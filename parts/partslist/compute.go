package partslist

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"panelyard/parts/diag"
)

// The bounds of what is computed: a parts list multiplies, adds and rounds.
const (
	maxFormula = 512    // characters
	maxRange   = 10_000 // cells of a range
	maxLooked  = 1_000_000
	maxChain   = 1_000 // formulas that wait for each other
	maxResult  = 1_000 // characters
)

// The tokens of a formula that is computed (ECMA-376 part 1, 18.17.2): text, a
// range or a cell, a function, a number, an operator. Anything else, such as a name, another
// sheet or another file, is not.
var token = regexp.MustCompile(`^(?:\s+` +
	`|"(?:[^"]|"")*"` +
	`|(\$?[A-Za-z]{1,3}\$?[0-9]{1,7})(?::(\$?[A-Za-z]{1,3}\$?[0-9]{1,7}))?(?:[^A-Za-z0-9_.!:(\[]|$)` +
	`|([A-Za-z]+)\(` +
	`|[0-9]+\.?[0-9]*(?:[Ee][+-]?[0-9]+)?|\.[0-9]+` +
	`|TRUE|FALSE` +
	`|<>|<=|>=|[-+*/^&=<>%(),])`)

// functions are those that are computed. None takes time or memory that its
// arguments do not.
var functions = []string{
	"ABS", "AND", "AVERAGE", "CEILING", "CONCATENATE", "COUNT", "FLOOR", "IF", "INT", "MAX", "MIN", "MOD", "NOT", "OR",
	"PRODUCT", "QUOTIENT", "ROUND", "ROUNDDOWN", "ROUNDUP", "SQRT", "SUM", "TRIM", "TRUNC", "UPPER", "LOWER", "PROPER",
}

// calculation is a run of compute.
type calculation struct {
	g        *grid
	formulas map[ref]string
	state    map[ref]bool // false while it waits for others, true when it is done
	file     *excelize.File
	looked   int // cells looked at in ranges
}

// calcSheet is the sheet of a workbook as it is created.
const calcSheet = "Sheet1"

// compute gives the cells whose formula has no value one, where it can; the others
// keep the reason as their text. Each formula is computed once, after those it
// refers to, in a workbook that holds values only: nothing is computed twice, and
// circles are found here. It takes time in the cells that the formulas refer to.
func compute(g *grid, formulas map[ref]string) {
	if len(formulas) == 0 {
		return
	}
	c := &calculation{g: g, formulas: formulas, state: map[ref]bool{}}
	done := 0
	for i := range g.rows {
		for k := range g.rows[i].cells {
			if g.rows[i].cells[k].kind != pending {
				continue
			}
			if done++; done > MaxComputed {
				g.rows[i].cells[k].text = fmt.Sprintf("more than %d formulas have no value", MaxComputed)
				continue
			}
			c.resolve(ref{g.rows[i].number, g.rows[i].cells[k].col}, 0)
		}
	}
}

// resolve computes a cell and those it refers to.
func (c *calculation) resolve(at ref, depth int) {
	target := c.g.row(at.row).at(at.col)
	if _, seen := c.state[at]; seen || depth > maxChain {
		return
	}
	c.state[at] = false
	defer func() { c.state[at] = true }()
	uses, err := c.references(c.formulas[at])
	if at.row > MaxRows {
		err = errFar
	}
	if err != nil {
		target.text = err.Error()
		return
	}
	for _, u := range uses {
		l := c.g.row(u.row)
		if l == nil || l.at(u.col).kind != pending {
			continue
		}
		if done, seen := c.state[u]; seen && !done {
			target.text = "it refers to itself"
			return
		}
		c.resolve(u, depth+1)
		if l.at(u.col).kind == pending {
			target.text = fmt.Sprintf("it refers to %s%d, which has no value", letters(u.col), u.row)
			return
		}
	}
	value, k, err := c.calculate(at, c.formulas[at], uses)
	if err != nil {
		target.text = diag.Brief(err)
		return
	}
	target.text, target.kind = value, k
	if value == "" {
		target.kind = text // a formula may give nothing; the cell is read as blank
	}
}

// Why a formula is not computed. The library keeps every row down to the last.
var (
	errOther = errors.New("it is more than arithmetic on cells of its sheet")
	errFar   = fmt.Errorf("it stands, or refers, beyond row %d or column %s", MaxRows, letters(MaxColumns))
)

// references returns the filled cells that a formula refers to, or why it is not
// computed.
func (c *calculation) references(formula string) ([]ref, error) {
	if formula == "" {
		return nil, errOther
	}
	if len(formula) > maxFormula {
		return nil, fmt.Errorf("it is longer than %d characters", maxFormula)
	}
	var uses []ref
	for rest := formula; rest != ""; {
		m := token.FindStringSubmatchIndex(rest)
		if m == nil || m[1] == 0 {
			return nil, errOther
		}
		n := m[1]
		switch {
		case m[2] >= 0:
			from, to := rest[m[2]:m[3]], rest[m[2]:m[3]]
			n = m[3]
			if m[4] >= 0 {
				to, n = rest[m[4]:m[5]], m[5]
			}
			found, err := c.filled(from, to)
			if err != nil {
				return nil, err
			}
			uses = append(uses, found...)
		case m[6] >= 0:
			if !slices.Contains(functions, strings.ToUpper(rest[m[6]:m[7]])) {
				return nil, fmt.Errorf("its function %s is not among those that are computed", clip(rest[m[6]:m[7]]))
			}
		}
		rest = rest[n:]
	}
	return uses, nil
}

// filled returns the filled cells of a range.
func (c *calculation) filled(from, to string) ([]ref, error) {
	c1, r1, err1 := excelize.CellNameToCoordinates(strings.ReplaceAll(from, "$", ""))
	c2, r2, err2 := excelize.CellNameToCoordinates(strings.ReplaceAll(to, "$", ""))
	if err1 != nil || err2 != nil {
		return nil, errOther
	}
	if max(r1, r2) > MaxRows || max(c1, c2) > MaxColumns {
		return nil, errFar
	}
	c1, c2, r1, r2 = min(c1, c2), max(c1, c2), min(r1, r2), max(r1, r2)
	area := (c2 - c1 + 1) * (r2 - r1 + 1)
	if c.looked += area; area > maxRange || c.looked > maxLooked {
		return nil, errors.New("its ranges are too large")
	}
	var list []ref
	for row := r1; row <= r2; row++ {
		l := c.g.row(row)
		for col := c1; l != nil && col <= c2; col++ {
			if l.at(col).text != "" {
				list = append(list, ref{row, col})
			}
		}
	}
	return list, nil
}

// calculate has excelize compute one formula on values. It is a large library:
// should it panic, the formula has no value.
func (c *calculation) calculate(at ref, formula string, uses []ref) (value string, k kind, err error) {
	defer func() {
		if p := recover(); p != nil {
			c.file = nil
			err = errors.New("it cannot be computed")
		}
	}()
	if c.file == nil {
		c.file = excelize.NewFile()
	}
	name := func(at ref) string { return letters(at.col) + strconv.Itoa(at.row) }
	for _, u := range uses {
		x := c.g.row(u.row).at(u.col)
		var v any = x.text
		switch x.kind {
		case number, date:
			f, err := strconv.ParseFloat(x.text, 64)
			if err == nil {
				v = f
			}
		case boolean:
			v = x.text == "TRUE"
		case fault, broken:
			return "", text, fmt.Errorf("it refers to %s, which holds an error, %s", name(u), clip(x.text))
		}
		if err := c.file.SetCellValue(calcSheet, name(u), v); err != nil {
			return "", text, err
		}
	}
	if err := c.file.SetCellFormula(calcSheet, name(at), formula); err != nil {
		return "", text, err
	}
	value, err = c.file.CalcCellValue(calcSheet, name(at), excelize.Options{RawCellValue: true})
	if clear := c.file.SetCellValue(calcSheet, name(at), nil); err == nil {
		err = clear
	}
	switch {
	case err != nil:
		return "", text, fmt.Errorf("it gives %w", err)
	case len(value) > maxResult:
		return "", text, fmt.Errorf("its value is longer than %d characters", maxResult)
	case value == "TRUE" || value == "FALSE":
		return value, boolean, nil
	case strings.ContainsAny(formula, `"&`):
		return trim(value), text, nil // what was put together of text stays text
	}
	if s, ok := digits15(value); ok {
		return s, number, nil
	}
	return trim(value), text, nil
}
