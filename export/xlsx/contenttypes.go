package xlsx

import (
	"cmp"
	"encoding/xml"
	"slices"
)

// contentTypes is the part [Content_Types].xml of a package (ISO/IEC 29500-2).
type contentTypes struct {
	XMLName   xml.Name      `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
	Defaults  []contentType `xml:"Default"`
	Overrides []contentType `xml:"Override"`
}

// contentType is the type of all parts with an extension, or of one part.
type contentType struct {
	Extension   string `xml:",attr,omitempty"`
	PartName    string `xml:",attr,omitempty"`
	ContentType string `xml:",attr"`
}

// sorted returns the part with its types in the order of their names: the library
// writes those of pictures in the order of a map.
func sorted(part []byte) ([]byte, error) {
	var types contentTypes
	if err := xml.Unmarshal(part, &types); err != nil {
		return nil, err
	}
	for _, list := range [][]contentType{types.Defaults, types.Overrides} {
		slices.SortFunc(list, func(a, b contentType) int {
			return cmp.Or(cmp.Compare(a.Extension, b.Extension), cmp.Compare(a.PartName, b.PartName))
		})
	}
	b, err := xml.Marshal(types)
	return append([]byte(xml.Header), b...), err
}
