package rules

import (
	"strings"

	"hemline/checks"
	"hemline/lang/finding"
)

var extensionShort = &checks.Rule{
	Name: "extension_short", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "`extend` is absent, or less than `extension`.",
	Why:    "Artwork copper that stops at the profile looks like copper that should have been pulled back, and a careful operator will clip it. Drawn past the profile, it is seen to be meant.",
	Limits: []string{"extension"},
	Source: "fabricators ask for 0.05 to 0.5 mm of copper past the profile; common practice",
	Bad:    strings.Replace(plated(wholeWraps...), "extend 0.1 mm", "extend 0.04 mm", 1),
	Good:   plated(wholeWraps...),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("extension")
		for _, pl := range p.Board.Platings() {
			switch e := pl.Extend; {
			case e.Given() && lacks(p, need, e.At, e.Quantity, func() string { return "copper of plating " + pl.Name.Text + " past the profile" }):
				r := p.Report(e.At, []string{pl.Name.Text}, "%s", tooSmall("copper of plating "+pl.Name.Text+" past the profile", e.Quantity, need))
				relatedLimit(r, need)
				r.Fix = toLeast(p, "draw it further past", e.At, need, e.Unit)
			case !e.Given() && !pl.Faulty && need.Value > 0:
				r := p.Report(pl.Name.At, []string{pl.Name.Text}, "plating %s states no copper past the profile; %s asks for at least %s %s", pl.Name.Text, need.Who, need.Quantity, need.From())
				relatedLimit(r, need)
			}
		}
	},
}
