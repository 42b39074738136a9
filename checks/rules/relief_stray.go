package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var reliefStray = &checks.Rule{
	Name: "relief_stray", Group: checks.GroupMask, Category: finding.Unbuildable,
	Finds:  "A relief's opening, which is drawn past the profile so that no mask is left on the wall, reaches over an opening or a notch onto the board beyond it.",
	Why:    "There it would take off the mask of whatever lies there. The layer files are not written for such a board. Along a narrow opening less is drawn, so that it takes a very narrow one, or half holes' openings.",
	Source: "the layer files' own reckoning: 0.5 mm past the profile, common practice; areas over 1 µm² count",
	Bad:    platedWith(slitHalved("0.4 mm")...),
	Good:   platedWith(slitHalved("0.8 mm")...),
	Run: func(p *checks.Pass) {
		for _, s := range strays(p) {
			if s.Relief == nil {
				continue
			}
			p.Report(s.Relief.OverAt(), []string{s.Relief.Name.Text}, "the opening of relief %s on %s, drawn past the profile, reaches over an opening onto the board beyond it; widen that opening, or leave it out of the relief", s.Relief.Name.Text, s.Face)
		}
	},
}
