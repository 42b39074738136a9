package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tabFacesBoard = &checks.Rule{
	Name: "tab_faces_board", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "Across from a tab's root, outward, lies the board's own profile, nearer than the tab's slot (its `length`, or the bit's width), frame as wide as the tab's waist and the slot along the other side (its width, or the `length` of the tab nearest along it) take, with whichever bit, none finer than `router_bit`, asks for least. Or the tab stands in a pocket of the outline, and the throat is too narrow for the slots along both its sides and as much frame between them.",
	Why:    "In a narrow notch or cutout no frame is left for a tab to reach: the pass along the other side cuts it off, or leaves frame weaker than the tab, and it holds nothing. Where the slots take a pocket's throat the frame in it falls out.",
	Limits: []string{"router_bit"},
	Source: "geometry of the two slots; the width of frame between them is our own judgement",
	Bad:    platedWith("cutout slit slot 12 mm by 3.79 mm at (25 mm, 22 mm)\ntab t4 on slit.rim at 5 mm width 3 mm solid"),
	Good:   platedWith("cutout slit slot 12 mm by 3.8 mm at (25 mm, 22 mm)\ntab t4 on slit.rim at 5 mm width 3 mm solid"),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		bits := boardBits(p)
		for _, t := range p.Board.Tabs() {
			face, ok := bits.Faces(t)
			if !ok {
				if k, shut := bits.Pocket(t); shut {
					f := p.Report(t.PositionAt, []string{t.Name.Text}, "tab %s stands in a pocket whose throat is %s wide; with a bit of %s at least %s is needed for the slots along both sides and frame between them as wide as the tab's waist: what the tab reaches is cut off from the frame, and it holds nothing; put it outside the pocket, or widen the throat",
						t.Name.Text, length(k.Throat, t.Width), length(k.Bit, t.Width), length(k.Needed, t.Width))
					relatedLimit(f, least)
				}
				continue
			}
			whose := "the board's own edge"
			if e := t.Edge.Profile.EdgeAt(face.Along); e != nil {
				whose = "edge " + e.Name
			}
			deep := ""
			if above(face.Deep, face.Bit) {
				deep = ", which the tab beside it widens to " + length(face.Deep, t.Length).String()
			}
			f := p.Report(t.PositionAt, []string{t.Name.Text}, "%s lies %s across from the root of tab %s; with a bit of %s at least %s is needed for the tab's slot, frame as wide as its waist and the slot along the other side%s: the tab is cut off, or hangs on a sliver; put it where the frame lies across",
				whose, length(face.Across, t.Width), t.Name.Text, length(face.Bit, t.Width), length(face.Needed, t.Width), deep)
			relatedLimit(f, least)
		}
	},
}
