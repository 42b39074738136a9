package assist

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/syntax"
)

// offerCard tells of a word that a fabricator offers: what it is, what of the board needs it,
// and whether the fabricator in use offers it.
func offerCard(b *board.Board, word string) string {
	says := syntax.OfferSays[word]
	if says == "" {
		return ""
	}
	var s strings.Builder
	fmt.Fprintf(&s, "**%s**: the shop makes %s\n", word, says)
	const most = 8
	n := 0
	for _, x := range figures.ServicesNeeded(b) {
		if x.Word != word {
			continue
		}
		if n++; n == 1 {
			s.WriteByte('\n')
		}
		if n <= most {
			fmt.Fprintf(&s, "- %s needs it\n", x.What)
		}
	}
	switch shop := b.Fabricator(); {
	case n > most:
		fmt.Fprintf(&s, "- and %d more\n", n-most)
	case n == 0:
		s.WriteString("\nNothing on this board needs it.\n")
	case shop != nil && len(shop.Offers) > 0 && !slices.ContainsFunc(shop.Offers, func(o board.Name) bool { return o.Text == word }):
		fmt.Fprintf(&s, "\nFabricator %s, in use, does not offer it.\n", shop.Name.Text)
	}
	return s.String()
}

// faceCard tells what is on a face.
func faceCard(b *board.Board, name string) string {
	i := slices.IndexFunc(board.Faces[:], func(f board.Face) bool { return f.String() == name })
	if i < 0 {
		return ""
	}
	f := board.Faces[i]
	var s strings.Builder
	layer := b.OuterLayer(f)
	fmt.Fprintf(&s, "The %s face; its copper layer is %s.\n", name, syntax.Quote(layer))
	var on []string
	for _, p := range b.Platings() {
		if w := p.Wrap[f]; w.Given() && w.Value > 0 {
			on = append(on, fmt.Sprintf("plating %s turns over it by %s", p.Name.Text, w.Quantity))
		}
	}
	for _, r := range b.Reliefs() {
		if slices.Contains(r.Faces, f) {
			on = append(on, "relief "+r.Name.Text+" opens its mask")
		}
	}
	pins := 0
	for _, c := range b.Connectors() {
		for _, pin := range c.Pins {
			if pin.Face == f {
				pins++
			}
		}
	}
	features := 0
	for _, x := range b.Features() {
		if b.SameLayer(x.Layer.Text, layer) {
			features++
		}
	}
	for _, x := range []struct {
		n    int
		what string
	}{{pins, "pin"}, {features, "feature"}} {
		if x.n > 0 {
			on = append(on, wording.Plural(x.n, x.what))
		}
	}
	for _, p := range b.Planes() {
		if b.SameLayer(p.Layer.Text, layer) {
			on = append(on, "a plane, "+p.Net.AsNet())
		}
	}
	if len(on) > 0 {
		s.WriteByte('\n')
	}
	for _, x := range on {
		s.WriteString("- " + x + "\n")
	}
	return s.String()
}
