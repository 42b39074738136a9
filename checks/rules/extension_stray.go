package rules

import (
	"hemline/checks"
	"hemline/lang/emit/layers"
	"hemline/lang/finding"
)

var extensionStray = &checks.Rule{
	Name: "extension_stray", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A plating's copper is drawn so far past the profile (`extend`) that it reaches over an opening or a notch onto the board beyond it.",
	Why:    "There it would be copper of the board, on whatever lies there. The layer files are not written for such a board. It is silent where the plating's own copper or another's lies there already, as on both sides of a plated slot.",
	Source: "the layer files' own reckoning: areas over 1 µm² count",
	Bad:    platedWith(slit("1.1 mm", "1.2 mm")...),
	Good:   platedWith(slit("1.1 mm", "1 mm")...),
	Run: func(p *checks.Pass) {
		for _, s := range strays(p) {
			if s.Plating == nil {
				continue
			}
			p.Report(s.Plating.Extend.At, []string{s.Plating.Name.Text}, "copper of plating %s is drawn %s past the profile and reaches over an opening onto the board beyond it; state a smaller extend", s.Plating.Name.Text, s.Plating.Extend.Quantity)
		}
	},
}

// strays is what is drawn past the profile onto the board, as the layer files reckon it.
func strays(p *checks.Pass) []layers.Stray {
	type key struct{}
	return checks.Once(p, key{}, func() []layers.Stray { return layers.Strays(p.Board, p.Limits.MaskMargin()) })
}
