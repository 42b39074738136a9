package rules

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
)

var serviceMissing = &checks.Rule{
	Name: "service_missing", Group: checks.GroupBoard, Category: finding.Unbuildable,
	Finds:  "The board needs what the fabricator in use does not offer: edge plating, half holes, perforated or premetallised tabs, plated cutouts.",
	Why:    "Better to know before the order. Silent where no fabricator is in use, or it does not say what it offers.",
	Source: "common practice, no source",
	Bad:    shop("offers half_holes") + platedWith(),
	Good:   shop("offers half_holes edge_plating") + platedWith(),
	Run: func(p *checks.Pass) {
		shop := p.Limits.Shop()
		if shop == nil {
			return
		}
		for _, s := range figures.ServicesNeeded(p.Board) {
			if !p.Limits.Offers(s.Word) {
				f := p.Report(s.At, []string{s.On}, "%s needs %s, which fabricator %s does not offer", s.What, s.Word, shop.Name.Text)
				related(f, shop.Offers[0].At, "what fabricator %s offers", shop.Name.Text)
			}
		}
	},
}
