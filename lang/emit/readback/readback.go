// Package readback holds the sheets of a drawing to the board that they are of:
// every dimension that the model has must stand on them, and stand there once;
// what repeats it stands in brackets (auxiliary dimensions, ISO 129-1). It knows
// of a drawing what its reader sees, the lines and the lettering, and works out
// from the model's paths what they must say.
package readback

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/sheet"
)

// key is where a reader looks for a dimension.
type key struct{ table, row, column string }

func (k key) String() string { return k.table + ", " + k.row + ", " + k.column }

// Wrong says what of a board its sheets do not state, state twice or state
// otherwise; margin, nm, is how far mask openings go past the copper where their
// reliefs do not say. Nothing is wrong where the list is empty.
func Wrong(b *board.Board, margin float64, sheets []*sheet.Sheet) (list []string) {
	found := map[key][]string{}
	loose := map[string]int{}
	drawn := map[string]Table{}
	for _, s := range sheets {
		tables, theirs := tablesOf(s)
		for _, t := range tables {
			if strings.HasSuffix(t.Title, ", drawn") {
				whole := drawn[t.Title]
				whole.Rows = append(whole.Rows, t.Rows...)
				drawn[t.Title] = whole
				continue
			}
			list = append(list, gather(t, found)...)
		}
		for i, x := range s.Texts {
			if bare := brackets.ReplaceAllString(x.S, ""); !theirs[i] && !x.Bold && !inBlock(s, x) && (measure.MatchString(bare) || within.MatchString(bare)) {
				loose[x.S]++
			}
		}
	}
	m := &model{b: b, margin: margin, want: map[key][]string{}}
	m.all()
	for _, k := range slices.SortedFunc(maps.Keys(m.want), func(a, c key) int { return strings.Compare(a.String(), c.String()) }) {
		want, got := slices.Sorted(slices.Values(m.want[k])), slices.Sorted(slices.Values(found[k]))
		if !slices.Equal(want, got) {
			list = append(list, fmt.Sprintf("%s: the board has %q, the sheets %q", k, want, got))
		}
		delete(found, k)
	}
	for k, v := range found {
		list = append(list, fmt.Sprintf("%s: the sheets state %q, which nothing asks for", k, v))
	}
	list = append(list, paths(b, drawn)...)
	for _, w := range outline(b) {
		loose[w]--
	}
	for w, n := range loose {
		if n != 0 {
			list = append(list, fmt.Sprintf("%q stands outside tables and brackets %+d times too often", w, n))
		}
	}
	return list
}

// measure is a text that is a figure, within one that holds a figure of a size
// beside words.
var (
	measure  = regexp.MustCompile(`^(\d+× )?[R⌀]?-?\d+(\.\d+)?( × \d+(\.\d+)?)?$|^-?\d+(\.\d+)?, -?\d+(\.\d+)?$`)
	within   = regexp.MustCompile(`⌀\d|\d × \d| -?\d+(\.\d+)?°`)
	brackets = regexp.MustCompile(`\([^)]*\)`)
)

// inBlock tells whether a text stands in the title block or in the frame's strip
// of references.
func inBlock(s *sheet.Sheet, x sheet.Text) bool {
	room := s.Format.Room()
	if !room.Holds(sheet.Rect{Min: x.At, Max: x.At}) {
		return true
	}
	const wide, high = 180, 36 // ISO 7200, and four rows
	return x.At.X > room.Max.X-wide && x.At.Y < room.Min.Y+high
}

// names are the columns that hold no dimension of the board, by table; of every
// other column a figure outside brackets must be one.
var names = map[string][]string{
	"Platings":             {"plating", "net", "joins"},
	"Plated stretches":     {"stretch", "net", "on"},
	"Gaps":                 {"gap", "in", "edge", "for"},
	"Tabs":                 {"tab", "edge"},
	"Tabs as routed":       {"tab"},
	"Half holes, plated":   {"row", "edge", "nets"},
	"Connectors":           {"connector", "edge"},
	"Cutouts":              {"cutout", "plated"},
	"Holes":                {"hole", "wall", "net"},
	"Solder mask openings": {"opening", "over", "faces"},
	"Planes":               {"layer", "net", "atthewallsthatitjoins"},
	"Copper features":      {"feature", "layer", "net"},
	"Via fences":           {"fence", "net"},
	"Marks by the shop":    {"mark", "face"},
	"Stack, top first":     {"layer", "material", "attheplatededge"},
}

// gather takes from a table what it states.
func gather(t Table, found map[key][]string) (wrong []string) {
	if t.Head == nil || t.Title == "Notes" || strings.HasPrefix(t.Title, "Findings") {
		return nil
	}
	skip, known := names[t.Title]
	if !known {
		return []string{fmt.Sprintf("there is a table %q", t.Title)}
	}
	for _, row := range t.Rows {
		for i, cell := range row {
			if slices.Contains(skip, t.Head[i]) || !strings.ContainsAny(cell, "0123456789") || aside(cell) {
				continue
			}
			k := key{t.Title, row[0], t.Head[i]}
			if t.Title == "Gaps" {
				k = key{t.Title, "", "end"}
			}
			if t.Title == "Planes" { // a layer may have several
				k.row = ""
			}
			found[k] = append(found[k], cell)
		}
	}
	return nil
}

func aside(cell string) bool { return strings.HasPrefix(cell, "(") && strings.HasSuffix(cell, ")") }
