package rules

import (
	"fmt"
	"strings"

	"hemline/lang/copper"
)

const pairsIntro = `<!-- Generated from the program's own tables; see DEVELOPERS.md. -->

# Pairs: what "clean" means

A board is clean when everything on it has been held against everything else. What follows is the whole of it: each kind of
thing with each other kind, the rule that speaks of the two and what it holds them to; then the pairs that no rule speaks of,
and why. A test fails when a pair of kinds is missing. The rules and their limits are in [RULES.md](RULES.md).

Distances are true ones, to the nearest point, round corners and arcs included, in the plane of the board. Walls, half holes,
vias and holes go through every layer; other things meet on the layers that they share. Nets: *two nets* are different ones, or
one of them or both state none; members of one row that states no net are one. *One net* is the same one, stated of both. *Any nets* is a physical matter. A finding is on
the two items; of two rows, the pair of members that misses the limit by most is told.

- A *wall* is a plated stretch through the board's height; a *wrap* what it turns over a face; a *strip* the copper of a plating on an
  inner layer that it joins and where no plane of its net comes to its wall; a *run* the copper by which a plane runs to a wall of its net.
- A *plane* is what keeps its pullback from every profile, of one with ` + "`within`" + ` what of that lies in its rectangle, its runs cut alike.
- A *pin* is a connector's; its *body* is metal on both faces and over the edge, as wide as stated, and stands over the board as far as
  its ` + "`reach`" + `, or just on the edge where none is stated.
- A *tab* is its root on the profile; a *perforation* a hole of its row. An *edge* is what is bare of a profile;
  on inner layers also what a premetallised tab leaves bare of a wall once it is cut, its root.
- A *mask opening* is a relief's, or the one that a pin, a feature and a plated hole's land on an outer layer have of their own,
  ` + "`mask_margin`" + ` larger all round. Vias and planes have none.
- A rounded corner between a plated and a bare edge is bare. A wrap that runs on to a *sharp* corner lies on the bare edge across it, and
  is found: the router that cuts that edge cuts through the wrap. End the plating short of the corner, or round it.

Beside the pairs: what lies on the board may not lie off it or in a cutout, nor a body past the end of its edge (` + "`item_outside`" + `); two platings
on one stretch may not say different things, nor the same twice (` + "`plating_conflict`, `plating_twice`" + `); nor two reliefs over one thing
(` + "`relief_conflict`" + `); a gap stands where what it is for stands (` + "`gap_astray`, `gap_unbridged`" + `).

Where two readings are reasonable, nothing is said: a half hole of the wall's own net on the wall, two coppers of one net that just
abut, half holes' lands under one relief, openings that merge, planes under a body that states no reach.

*At worst*: limits hold what is stated. Where the table says *apart*, two that keep their limit as drawn are found all the same when
the tolerances that move their borders come to as much as what is between them, so that the nets may touch. Tolerances add as a
sum; one that the text does not state is the shop's (` + "`tolerance_…`" + `), and the finding says so. The end of a plated stretch moves by
` + "`gaps`" + `; a wall beside its ends by ` + "`outline`" + `, or in a cutout by ` + "`cutouts`" + `; a drilled hole by ` + "`position`" + ` and half of ` + "`holes`" + `;
a half hole by ` + "`position`" + ` and half of ` + "`half_holes`" + `. Copper that is printed lies in one image and does not move against other
copper of it, nor do mask openings against each other: the tolerance of ` + "`mask`" + ` is how well the image lies on the board (0.05 to 0.076 mm
of registration), so the mask left between two openings is as drawn, and a web at the built-in ` + "`mask_web`" + ` is left at worst too. Webs of
board between holes are a matter of strength, not of nets, and are held as drawn.

A distance kept is a bound for drawing, not a promise of what is built: the fabricator's word, local codes and licensed practice
come first.

## Held

| these | with those | nets | held to | at worst | rule | but |
|---|---|---|---|---|---|---|
`

// PairsReference is the reference of the table of pairs, as Markdown.
func PairsReference() string {
	var b strings.Builder
	b.WriteString(pairsIntro)
	for _, row := range table {
		if row.rule != nil {
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | [`%s`](RULES.md#%s) | %s |\n", kindNames(row.a), kindNames(row.b), row.nets, row.heldTo(), row.atWorst(), row.rule.Name, row.rule.Name, row.says)
		}
	}
	b.WriteString("\n## Not held, and why\n\n| these | with those | why |\n|---|---|---|\n")
	for _, row := range table {
		if row.rule == nil {
			fmt.Fprintf(&b, "| %s | %s | %s |\n", kindNames(row.a), kindNames(row.b), row.says)
		}
	}
	return b.String()
}

// heldTo says what a line holds two things to.
func (r *pair) heldTo() string {
	switch {
	case len(r.limits) > 0:
		return "`" + strings.Join(r.limits, "` or `") + "`"
	case r.meets:
		return "may not touch"
	}
	return "may not overlap"
}

// atWorst says whether a line asks that something is left at worst.
func (r *pair) atWorst() string {
	if r.worst {
		return "apart"
	}
	return ""
}

func kindNames(list []copper.Kind) string {
	names := make([]string, len(list))
	for i, k := range list {
		names[i] = k.String()
	}
	return strings.Join(names, ", ")
}
