package rules

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var reliefMissing = &checks.Rule{
	Name: "relief_missing", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "A wrap has no relief on a face where the opposite face has one, or where a note says that the plating touches or is soldered.",
	Why:    "Mask on the wrap keeps the housing from touching and the solder from wetting. A note counts if it names the plating and speaks of touching, contact, clamping or solder.",
	Source: "a fabricator's fabrication-drawing guide; common practice",
	Bad:    platedWith("relief lid over wall on top reach 1 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 1 mm"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			var relieved [2]*board.Relief
			for _, x := range p.Board.Reliefs() {
				if x.Over.Text == pl.Name.Text {
					for _, f := range x.Faces {
						relieved[f] = x
					}
				}
			}
			said := saidToTouch(p.Board, pl)
			for _, f := range board.Faces {
				other := relieved[1-f]
				if relieved[f] != nil || pl.Wrap[f].Value == 0 || p.Board.States("relief") != len(p.Board.Reliefs()) {
					continue
				}
				switch {
				case other != nil:
					r := p.Report(pl.Wrap[f].At, []string{pl.Name.Text}, "the wrap of %s on %s has no relief, the one on %s has: mask covers one of them", pl.Name.Text, f, 1-f)
					related(r, other.Name.At, "the relief on the other face")
				case said != nil:
					r := p.Report(pl.Wrap[f].At, []string{pl.Name.Text}, "the wrap of %s on %s has no relief, but a note says that it touches or is soldered", pl.Name.Text, f)
					related(r, said.Text.At, "the note")
				}
			}
		}
	},
}

var touching = regexp.MustCompile(`(?i)\b(touch|contact|clamp|solder)`)

// saidToTouch finds a note that names a plating and says that it is touched.
func saidToTouch(b *board.Board, pl *board.Plating) *board.Note {
	for _, n := range b.Notes() {
		words := strings.FieldsFunc(n.Text.Text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' })
		if slices.Contains(words, pl.Name.Text) && touching.MatchString(n.Text.Text) {
			return n
		}
	}
	return nil
}
