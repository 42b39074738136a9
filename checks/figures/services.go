package figures

import (
	"hemline/lang/board"
	"hemline/lang/source"
)

// Service is one of syntax.Offers that a board needs of its shop, and what on it does.
type Service struct {
	Word string
	At   source.Place
	On   string // the item's name
	What string // "plating wall", "tab t1"
}

// ServicesNeeded lists what a board needs: of platings and half holes the first one that does,
// and each tab.
func ServicesNeeded(b *board.Board) (list []Service) {
	known := map[string]bool{}
	need := func(service string, at source.Place, on, what string) {
		list = append(list, Service{service, at, on, what})
		known[service] = true
	}
	for _, pl := range b.Platings() {
		for _, a := range pl.Along {
			switch cutout := a.Edge.Profile.Cutout; {
			case cutout && !known["plated_cutouts"]:
				need("plated_cutouts", a.At, pl.Name.Text, "plating "+pl.Name.Text+" along edge "+a.Edge.Name)
			case !cutout && !known["edge_plating"]:
				need("edge_plating", pl.Name.At, pl.Name.Text, "plating "+pl.Name.Text)
			}
		}
	}
	if list := b.Castellations(); len(list) > 0 {
		c := list[0]
		need("half_holes", c.Name.At, c.Name.Text, "castellation "+c.Name.Text)
	}
	for _, t := range b.Tabs() {
		if t.Perforated {
			need("perforated_tabs", t.Name.At, t.Name.Text, "tab "+t.Name.Text)
		}
		if t.Premetallised {
			need("premetallised_tabs", t.Name.At, t.Name.Text, "tab "+t.Name.Text)
		}
	}
	return list
}
