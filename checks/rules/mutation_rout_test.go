package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/lang/board"
)

var routMistakes = []kind{
	{rule: "edge_standing", mistake: "a slit in the outline is narrower than any bit", seed: slitInOutline("line slit_a to %[1]s\n line slit_b to %[2]s\n line slit_c to %[3]s\n line slit_d to %[4]s\n", 1), broken: true},
	{rule: "edge_standing", mistake: "a pocket lies behind a throat narrower than any bit", seed: slitInOutline("line slit_a to %[1]s\n line slit_b to %[2]s\n line slit_e to %[5]s\n line slit_f to %[6]s\n line slit_c to %[3]s\n line slit_d to %[4]s\n", 1), broken: true},
	{rule: "edge_shared", mistake: "a slot as wide as the bit is plated along one side", seed: openedBy("slot 8 mm by %s", 1, "from 1 mm to 6 mm")},
	{rule: "edge_shared", mistake: "half of a hole hardly wider than the bit is plated", seed: openedBy("circle %s", 1.5, "from 1 mm to 2 mm")},
	{rule: "tab_flank", mistake: "a gap is hardly wider than its tab, and the shop allows it", seed: adding("fabricator odd { limit tab_gap minimum 0.05 mm }\ncutout bay rectangle 14 mm by 9 mm corner 1 mm at (14 mm, 12 mm)\nplating shell { along bay.south; net SHELL }\ngap open of shell on bay.south at 7 mm width 3.16 mm\ntab stray on bay.south at 7 mm width 3 mm solid", "stray")},
	{rule: "tab_flank", mistake: "plating ends hardly before a tab, and the shop allows it", seed: adding("fabricator odd { limit tab_gap minimum 0.05 mm }\ncutout bay rectangle 14 mm by 9 mm corner 1 mm at (14 mm, 12 mm)\nplating shell { along bay.north from 1 mm to 5 mm; net SHELL }\ntab stray on bay.north at 6.6 mm width 3 mm solid", "stray")},
}

// openedBy adds a cutout some times as wide as the finest bit, plated in part.
func openedBy(shape string, times float64, part string) seeder {
	return func(s *subject) (mutant, bool) {
		width := fmt.Sprintf("%.6f mm", times*s.min("router_bit")/1e6)
		return adding(fmt.Sprintf("cutout odd_port "+shape+" at (14 mm, 12 mm)\nplating odd_side { along odd_port.rim "+part+"; net SHELL }", width), "odd_port")(s)
	}
}

// slitInOutline draws a slit, or a throat with more behind it, into a straight piece
// of a drawn outline, near its start.
func slitInOutline(pieces string, from float64) func(*subject) (mutant, bool) {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.outlineEdges(true), func(e *board.Edge) (mutant, bool) {
			if e.Profile.Kind != "start" || e.Length < 12e6 {
				return none, false
			}
			file, span, ok := s.a.Locate(e.At)
			if !ok || file != s.a.Root() {
				return none, false
			}
			before := s.text[:span.Start]
			clause := strings.LastIndex(before, "line ")
			if clause < 0 || strings.ContainsAny(before[clause+5:], "\n;") {
				return none, false
			}
			wide, deep := s.less(s.min("router_bit")), 3e6
			place := func(s, d float64) string {
				p := e.Point(e.Base + s).Add(e.Inward(6e6).Scale(d))
				return at(math.Round(p.X), math.Round(p.Y))
			}
			slit := fmt.Sprintf(pieces, place(from*1e6, 0), place(from*1e6, deep), place(from*1e6+wide, deep), place(from*1e6+wide, 0), place(from*1e6, 2*deep), place(from*1e6+wide+deep, 2*deep))
			return s.edit(s.text[:clause]+slit+s.text[clause:], "outline")
		})
	}
}
