package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/finding"
)

var fabricatorOutdated = &checks.Rule{
	Name: "fabricator_outdated", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "The fabricator in use is past its `until`: its limits are those of another time.",
	Why:    "A shop changes what it holds. A date is put on its limits so that somebody asks it again before boards are ordered by them. The day on which they were `checked` is not judged.",
	Source: "common practice, no source",
	Bad:    shop("until \"2020-06-30\"") + plated(wholeWraps...),
	Good:   shop("until \"2999-06-30\"") + plated(wholeWraps...),
	NoWay:  "the limits are the shop's own word: ask it which hold now, and for how long",
	Run: func(p *checks.Pass) {
		f := p.Board.Fabricator()
		if f == nil || !p.Past(f.Until) {
			return
		}
		version := ""
		if f.Version.Given() {
			version = fmt.Sprintf(", version %s,", f.Version.Text)
		}
		p.Report(f.Until.At, []string{f.Name.Text}, "the limits of fabricator %s%s held until %s; today is %s: ask the shop, and state a later day", f.Name.Text, version, f.Until.Text, p.Today)
	},
}
