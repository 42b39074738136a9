package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/source"
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
		need := func(service string, at source.Place, on, what string) {
			if p.Limits.Offers(service) {
				return
			}
			f := p.Report(at, []string{on}, "%s needs %s, which fabricator %s does not offer", what, service, shop.Name.Text)
			related(f, shop.Offers[0].At, "what fabricator %s offers", shop.Name.Text)
		}
		onOutline, onCutout := false, false
		for _, pl := range p.Board.Platings() {
			for _, a := range pl.Along {
				switch cutout := a.Edge.Profile.Cutout; {
				case cutout && !onCutout:
					onCutout = true
					need("plated_cutouts", a.At, pl.Name.Text, "plating "+pl.Name.Text+" along edge "+a.Edge.Name)
				case !cutout && !onOutline:
					onOutline = true
					need("edge_plating", pl.Name.At, pl.Name.Text, "plating "+pl.Name.Text)
				}
			}
		}
		if len(p.Board.Castellations()) > 0 {
			c := p.Board.Castellations()[0]
			need("half_holes", c.Name.At, c.Name.Text, "castellation "+c.Name.Text)
		}
		for _, t := range p.Board.Tabs() {
			if t.Perforated {
				need("perforated_tabs", t.Name.At, t.Name.Text, "tab "+t.Name.Text)
			}
			if t.Premetallised {
				need("premetallised_tabs", t.Name.At, t.Name.Text, "tab "+t.Name.Text)
			}
		}
	},
}
