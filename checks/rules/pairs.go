package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
)

// The table of pairs: what of a board is held against what. Each two kinds of
// pieces have a line, or more: the rule that speaks of them and the limit that
// it holds them to, or the reason why none does. A test holds it complete; the
// references show it.

// nets says of which nets two pieces are for a line to speak of them.
type nets string

const (
	anyNets  nets = "any nets"
	twoNets  nets = "two nets"
	oneNet   nets = "one net"
	ownItems nets = "of one item too" // any nets, and two members of one row too
)

// pair is a line of the table.
type pair struct {
	a, b []copper.Kind
	nets nets
	rule *checks.Rule
	// need is the limit that two pieces are held to; nil where they may not overlap.
	need func(l *checks.Limits, m *copper.Map, a, b *copper.Piece) checks.Limit
	// limits are the names of those that need may give.
	limits []string
	// except tells of two pieces that the line is not about, whatever else is on
	// the board; unless, of two that are near each other, what else there is.
	except func(m *copper.Map, a, b *copper.Piece) bool
	unless func(p *checks.Pass, m *copper.Map, n copper.Near) bool
	// besides tells of a piece what of it does not count where it lies on that.
	besides func(x, other *copper.Piece) bool
	// finished measures two pieces that are near each other by what of them the finished board has.
	finished func(p *checks.Pass, n copper.Near) copper.Near
	// apart tells that pieces which touch or overlap are another line's, or merge;
	// meets that touching is enough to be found, own that a connector may ask for
	// more than the limit, byRule that the rule works its pairs out itself.
	apart, meets, own, byRule bool
	// worst tells that copper or mask must be left between the two with all tolerances too.
	worst bool
	// says is what the references say beside the rule and the limit: an exception,
	// or why no rule speaks of the two.
	says string
}

// of lists kinds.
func of(list ...copper.Kind) []copper.Kind { return list }

// The kinds that often go together.
var (
	drills  = of(copper.Via, copper.PlatedHole, copper.Drilled)
	surface = of(copper.Land, copper.Barrel, copper.Pin, copper.Feature, copper.Via, copper.Pad, copper.PlatedHole, copper.Ring)
)

// table is the table of pairs; heldTo are the limits that it names.
var (
	table  []*pair
	heldTo []string
)

func init() {
	table = []*pair{
		{a: of(copper.Wrap), b: of(copper.Wrap), nets: twoNets, rule: wrapClearance, need: least("wrap_clearance"), limits: []string{"wrap_clearance"}, unless: oneCause,
			says: "walls that come as near along the edge are `net_conflict`'s"},
		{a: of(copper.Wrap), b: of(copper.Land, copper.Barrel, copper.Feature, copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Run), nets: twoNets,
			rule: wrapClearance, need: least("wrap_clearance"), limits: []string{"wrap_clearance"}},
		{a: of(copper.Wall), b: of(copper.Feature, copper.Run), nets: twoNets, worst: true, rule: planeShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}, except: onOuter,
			says: "on inner layers; on outer ones the wrap is held"},
		{a: of(copper.Strip), b: of(copper.Feature), nets: twoNets, worst: true, rule: planeShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}},
		{a: of(copper.Wall), b: of(copper.Feature), nets: oneNet, rule: tieUnstated, need: least("edge_clearance_inner"), limits: []string{"edge_clearance_inner"}, except: joinedOrSilent, finished: finishedWall,
			says: "on inner layers that the plating's `layers` leaves out; where it states none, copper of its net may meet it; the root of a premetallised tab is `edge_pullback`'s"},
		{a: of(copper.Wall, copper.Strip), b: of(copper.Via, copper.PlatedHole), nets: twoNets, worst: true, rule: wallShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}},
		{a: of(copper.Wall), b: of(copper.Wall), nets: twoNets, worst: true, rule: wallShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}, unless: alongEdge,
			says: "along one edge they are `net_conflict`'s, by `gap_width`"},
		{a: of(copper.Wall), b: of(copper.Strip), nets: twoNets, worst: true, rule: wallShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}, unless: alongEdge,
			says: "along one edge the walls are held"},
		{a: of(copper.Strip), b: of(copper.Barrel), nets: twoNets, worst: true, rule: wallShort, need: least("inner_clearance"), limits: []string{"inner_clearance"}},
		{a: of(copper.Strip), b: of(copper.Strip, copper.Run), nets: twoNets, worst: true, rule: tiesMeet, need: least("inner_clearance"), limits: []string{"inner_clearance"}, unless: oneCause,
			says: "walls that come as near along the edge are `net_conflict`'s"},
		{a: of(copper.Run), b: of(copper.Run), nets: twoNets, rule: tiesMeet},
		{a: of(copper.Wall, copper.Wrap), b: of(copper.Pin), nets: twoNets, worst: true, rule: launchClearance, need: launchNeed, limits: []string{"launch_clearance"}, apart: true, own: true,
			says: "or the connector's own `clearance`, if that is more"},
		{a: of(copper.Wall, copper.Wrap), b: of(copper.Pin), nets: twoNets, rule: launchBlocked, meets: true},
		{a: of(copper.Wall), b: of(copper.Barrel), nets: twoNets, worst: true, rule: castellationOnPlating, need: least("gap_width"), limits: []string{"gap_width"}},
		{a: surface, b: surface, nets: twoNets, worst: true, rule: copperClearance, need: least("copper_clearance"), limits: []string{"copper_clearance"}, except: ownBarrels,
			says: "two half holes are `castellation_spacing`'s, a pad and its own hole are one"},
		{a: of(copper.Wrap, copper.Strip, copper.Feature, copper.Land, copper.Pad, copper.Ring, copper.Pin, copper.Via), b: of(copper.Drilled), nets: anyNets, rule: edgePullback, need: edgeNeed, limits: edgeLimits},
		{a: of(copper.Strip, copper.Feature, copper.Land, copper.Pad, copper.Ring, copper.Pin, copper.Via), b: of(copper.Perforation), nets: anyNets, rule: edgePullback, need: edgeNeed, limits: edgeLimits},
		{a: of(copper.Wrap, copper.Strip, copper.Feature, copper.Land, copper.Pad, copper.Ring, copper.Pin), b: of(copper.Edge), nets: anyNets, rule: edgePullback, need: edgeNeed, limits: edgeLimits, besides: pads,
			says: "not the edge that a pin or a half hole stands on, nor what goes on from its end that near, nor what of a feature lies on a pin, half hole, wrap or strip of its net, nor on an inner layer the edge beside a half hole that it joins; of a bare edge that goes on from the wrap's own stretch, only what is farther from the stretch's end than about one and a half times the limit"},
		{a: of(copper.Wrap), b: of(copper.Cutout), nets: anyNets, rule: edgePullback, except: ownCutout, says: "may not be cut by a cutout that is not its own"},
		{a: drills, b: drills, nets: ownItems, rule: holeWeb, need: least("hole_web"), limits: []string{"hole_web"}},
		{a: drills, b: of(copper.Barrel, copper.Perforation), nets: anyNets, rule: holeWeb, need: least("hole_web"), limits: []string{"hole_web"}},
		{a: of(copper.Perforation), b: of(copper.Perforation), nets: anyNets, rule: holeWeb, need: least("hole_web"), limits: []string{"hole_web"},
			says: "of two tabs; those of one are `perforation_web`'s"},
		{a: of(copper.Perforation), b: of(copper.Cutout), nets: anyNets, rule: holeWeb, need: least("hole_web"), limits: []string{"hole_web"}, except: ownCutout,
			says: "not the cutout that the tab stands on"},
		{a: of(copper.Via), b: of(copper.Edge, copper.Wall), nets: anyNets, rule: fenceInset, need: least("fence_inset"), limits: []string{"fence_inset"}, except: rootOfTab,
			says: "the root of a premetallised tab by the wall that it is part of"},
		{a: of(copper.PlatedHole, copper.Drilled), b: of(copper.Edge, copper.Wall), nets: anyNets, rule: holeEdge, need: least("hole_edge"), limits: []string{"hole_edge"}, except: rootOfTab,
			says: "the root of a premetallised tab by the wall that it is part of"},
		{a: of(copper.Barrel), b: of(copper.Barrel), nets: ownItems, rule: castellationSpacing, need: least("castellation_spacing"), limits: []string{"castellation_spacing"}},
		{a: of(copper.Pin), b: of(copper.Pin), nets: anyNets, rule: connectorsMeet, except: sameItem},
		{a: of(copper.Body), b: of(copper.Body), nets: anyNets, rule: bodyClearance, need: least("body_clearance"), limits: []string{"body_clearance"}},
		{a: of(copper.Body), b: of(copper.Pin), nets: anyNets, rule: connectorsMeet, except: sameItem, says: "of another connector"},
		{a: of(copper.Body), b: of(copper.Barrel, copper.Land), nets: anyNets, rule: connectorsMeet},
		{a: of(copper.Body), b: of(copper.Feature), nets: anyNets, rule: connectorsMeet, except: besideBody, unless: ownGround,
			says: "of another net than the wall that the body stands on and than the connector, on outer layers, under a `reach` that is stated"},
		{a: of(copper.Body), b: of(copper.Wall, copper.Wrap), nets: anyNets, rule: bodyShorts, meets: true, says: "walls and wraps of two nets under one body"},
		{a: of(copper.Body), b: of(copper.Tab), nets: anyNets, rule: tabNearConnector, need: least("tab_connector"), limits: []string{"tab_connector"}},
		{a: of(copper.Tab), b: of(copper.Wall), nets: anyNets, rule: tabGapTight, need: least("tab_gap"), limits: []string{"tab_gap"}, except: premetallised, unless: onPlated,
			says: "not of a premetallised tab; one that stands on a plated stretch is `tab_on_plating`'s"},
		{a: of(copper.Tab), b: of(copper.Barrel, copper.Land), nets: anyNets, rule: tabGapTight, need: least("tab_gap"), limits: []string{"tab_gap"}},
		{a: of(copper.Tab), b: of(copper.Tab), nets: anyNets, rule: tabsCrowded, need: least("router_bit"), limits: []string{"router_bit"}, except: otherProfile, says: "on one profile"},
		{a: of(copper.Opening), b: of(copper.Opening), nets: ownItems, rule: maskWeb, need: least("mask_web"), limits: []string{"mask_web"}, apart: true, says: "openings that meet are one"},
		{a: of(copper.Opening), b: of(copper.Wrap, copper.Run, copper.Barrel, copper.Land, copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Pin, copper.Feature), nets: twoNets, rule: maskBares, except: notRelief,
			says: "of reliefs, and not the copper that the relief is over; what copper has of its own is as a rule narrower than `copper_clearance`"},
		{a: of(copper.Plane), b: of(copper.Wrap), nets: twoNets, rule: wrapClearance, byRule: true, limits: []string{"wrap_clearance"}, says: "by its pullback and true shape"},
		{a: of(copper.Plane), b: of(copper.Wall, copper.Strip), nets: twoNets, rule: planeShort, byRule: true, limits: []string{"inner_clearance"}, says: "by its pullback and true shape, on inner layers"},
		{a: of(copper.Plane), b: of(copper.Wall), nets: oneNet, rule: tieUnstated, byRule: true, limits: []string{"edge_clearance_inner"}, says: "by its pullback and true shape, on inner layers that the plating's `layers` leaves out"},
		{a: of(copper.Plane), b: of(copper.Edge), nets: anyNets, rule: edgePullback, byRule: true, limits: edgeLimits, says: "by its pullback"},
		{a: of(copper.Plane), b: of(copper.Plane), nets: anyNets, rule: planesOverlap, byRule: true, says: "on one layer, where they run to walls aside"},
		{a: of(copper.Plane), b: of(copper.Plane, copper.Run), nets: twoNets, rule: copperClearance, byRule: true, limits: []string{"copper_clearance"}, says: "of one layer, that do not lie over each other, by true shape"},
		{a: of(copper.Run), b: of(copper.Run), nets: twoNets, rule: copperClearance, byRule: true, limits: []string{"copper_clearance"}, says: "that do not overlap, by true shape"},
		{a: of(copper.Plane), b: of(copper.Opening), nets: twoNets, rule: maskBares, byRule: true, says: "of reliefs, on outer layers, by its pullback and true shape"},
		{a: of(copper.Cutout), b: of(copper.Cutout), nets: anyNets, rule: neckNarrow, byRule: true, limits: []string{"neck"}, says: "and overlapping ones are `cutout_outside`'s"},
		{a: of(copper.Cutout), b: of(copper.Edge, copper.Wall), nets: anyNets, rule: neckNarrow, byRule: true, limits: []string{"neck"}, says: "the outline, and its own two sides across a neck or notch, too"},
		{a: of(copper.Edge), b: of(copper.Edge), nets: anyNets, rule: neckNarrow, byRule: true, limits: []string{"neck"}, says: "as profiles, whatever is plated of them"},
		{a: of(copper.Wall), b: of(copper.Edge), nets: anyNets, rule: neckNarrow, byRule: true, limits: []string{"neck"}, says: "as profiles"},
	}
	table = append(table, unheld...)
	for _, row := range table {
		row.index()
		if row.surveyed() && len(row.limits) > 0 {
			row.rule.Least = leastOf(row.rule)
		}
		for _, l := range row.limits {
			if !slices.Contains(heldTo, l) {
				heldTo = append(heldTo, l)
			}
		}
	}
}

// unheld are the pairs that no rule speaks of, and why.
var unheld = []*pair{
	{a: of(copper.Plane), b: of(copper.Feature, copper.Pin, copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Barrel, copper.Land),
		says: "a plane gives way to it, by `copper_clearance`; the layers keep that room free"},
	{a: of(copper.Plane), b: of(copper.Drilled, copper.Perforation), says: "a plane gives way to it, by `edge_clearance_outer` or `edge_clearance_inner`"},
	{a: of(copper.Plane), b: of(copper.Body), says: "mask parts them; a housing on bare copper is what reliefs are for"},
	{a: of(copper.Plane), b: of(copper.Tab), says: "a tab keeps its copper off by its own clearance; the layers keep it free"},
	{a: of(copper.Plane), b: of(copper.Cutout), says: "a plane's pullback holds along cutouts too"},
	{a: of(copper.Run), b: of(copper.Feature, copper.Pin, copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Barrel, copper.Land, copper.Drilled, copper.Perforation),
		says: "a run gives way, as its plane does"},
	{a: of(copper.Run), b: of(copper.Edge, copper.Cutout), says: "a run gives way, as its plane does, by `edge_clearance_outer` or `edge_clearance_inner`"},
	{a: of(copper.Run, copper.Strip), b: of(copper.Body, copper.Tab), says: "it is as wide as the wall, which is held"},
	{a: of(copper.Strip), b: of(copper.Wrap, copper.Land, copper.Pad, copper.Ring, copper.Pin, copper.Opening), says: "they lie on other layers"},
	{a: of(copper.Strip), b: of(copper.Cutout), says: "the cutout's edge is held"},
	{a: of(copper.Wall), b: of(copper.Wrap), says: "along one edge `net_conflict` holds the walls, across the board `wrap_clearance` the wraps"},
	{a: of(copper.Wall), b: of(copper.Land, copper.Pad, copper.Ring), says: "they lie on outer layers, where the wrap is held"},
	{a: of(copper.Wall), b: of(copper.Perforation), says: "a tab's holes are in its root, which is held"},
	{a: of(copper.Wall), b: of(copper.Opening), says: "mask comes off a wall on purpose"},
	{a: of(copper.Wrap), b: of(copper.Tab), says: "the wall is held; over a premetallised tab the wrap runs on"},
	{a: of(copper.Wrap), b: of(copper.Perforation), says: "a premetallised tab's holes go through the wrap; others are kept off by `tab_gap`"},
	{a: of(copper.Barrel), b: of(copper.Edge), says: "a half hole stands on its edge; its distance from the edge's end is `castellation_corner`'s"},
	{a: of(copper.Barrel), b: of(copper.Cutout), says: "its land is held"},
	{a: of(copper.Barrel), b: of(copper.Perforation), says: "`tab_gap` keeps the tab farther off"},
	{a: of(copper.Land, copper.Pad, copper.Ring, copper.Pin, copper.Feature, copper.Via, copper.PlatedHole, copper.Drilled), b: of(copper.Cutout), says: "the cutout's edge is held, and `item_outside` finds what lies in it"},
	{a: of(copper.Pin), b: of(copper.Tab), says: "the body over it is held"},
	{a: of(copper.Body), b: of(copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Drilled), says: "the part's own drawing says what may be under it"},
	{a: of(copper.Body), b: of(copper.Perforation, copper.Cutout, copper.Edge), says: "the tab is held; a body may hang over an edge"},
	{a: of(copper.Body), b: of(copper.Opening), says: "mask comes off under a body on purpose"},
	{a: of(copper.Feature), b: of(copper.Tab), says: "the bare edge that a tab stands on is held"},
	{a: of(copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Drilled), b: of(copper.Tab), says: "the edge that the tab stands on is held, and the tab's own holes"},
	{a: of(copper.Tab), b: of(copper.Perforation), says: "tabs are held against each other"},
	{a: of(copper.Tab), b: of(copper.Cutout, copper.Edge), says: "a tab stands on an edge on purpose"},
	{a: of(copper.Tab), b: of(copper.Opening), says: "the copper that mask comes off is held"},
	{a: of(copper.Perforation, copper.Drilled), b: of(copper.Opening), says: "no copper is laid bare"},
	{a: of(copper.Perforation), b: of(copper.Edge), says: "the row stands at the edge that it is to break from"},
	{a: of(copper.Cutout), b: of(copper.Opening), says: "mask ends at an opening in the board"},
	{a: of(copper.Edge), b: of(copper.Opening), says: "mask may be open to an edge"},
}

// byKinds are the lines that speak of two kinds.
var byKinds [copper.Kinds][copper.Kinds][]*pair

func (r *pair) index() {
	for _, a := range r.a {
		for _, b := range r.b {
			if !holds(byKinds[a][b], r) {
				byKinds[a][b] = append(byKinds[a][b], r)
			}
			if !holds(byKinds[b][a], r) {
				byKinds[b][a] = append(byKinds[b][a], r)
			}
		}
	}
}

func holds(list []*pair, r *pair) bool {
	for _, x := range list {
		if x == r {
			return true
		}
	}
	return false
}

// surveyed tells whether the map looks for a line's pairs.
func (r *pair) surveyed() bool { return r.rule != nil && !r.byRule }

// speaks tells whether a line is about two pieces.
func (r *pair) speaks(m *copper.Map, a, b *copper.Piece) bool {
	switch r.nets {
	case twoNets:
		if !differ(a, b) {
			return false
		}
	case oneNet:
		if !a.Net().Given() || a.Net().Text != b.Net().Text {
			return false
		}
	case anyNets:
		if a.Item == b.Item && a.Item != nil {
			return false
		}
	case ownItems:
		if a.Item == b.Item && a.Item != nil && a.Member == b.Member && a.Stretch() == b.Stretch() {
			return false
		}
	}
	return r.except == nil || !r.except(m, a, b)
}

// differ tells whether two coppers are of two nets: of different ones, or one or
// both of none. Members of one statement without a net are of one.
func differ(a, b *copper.Piece) bool {
	one, another := a.Net(), b.Net()
	if a.Item == b.Item && one.Text == another.Text {
		return false
	}
	return !one.Given() || !another.Given() || one.Text != another.Text
}

// least is the limit of a name.
func least(name string) func(*checks.Limits, *copper.Map, *copper.Piece, *copper.Piece) checks.Limit {
	return func(l *checks.Limits, _ *copper.Map, _, _ *copper.Piece) checks.Limit { return l.Minimum(name) }
}

var edgeLimits = []string{"edge_clearance_outer", "edge_clearance_inner"}

// edgeNeed is what copper keeps off a bare edge or a hole without copper: what is on an inner layer by
// the inner limit, what is on both by the larger.
func edgeNeed(l *checks.Limits, m *copper.Map, a, b *copper.Piece) checks.Limit {
	outer, inner := m.Outer(a.Layers & b.Layers)
	out, in := l.Minimum("edge_clearance_outer"), l.Minimum("edge_clearance_inner")
	if inner && (!outer || in.Value > out.Value) {
		return in
	}
	return out
}

// launchNeed is what plating keeps off a connector's pin.
func launchNeed(l *checks.Limits, _ *copper.Map, a, b *copper.Piece) checks.Limit {
	need := l.Minimum("launch_clearance")
	c, ok := b.Item.(*board.Connector)
	if !ok {
		c = a.Item.(*board.Connector)
	}
	if c.Clearance.Given() && c.Clearance.Value > need.Value {
		need.Quantity, need.Who, need.Where, need.At = c.Clearance.Quantity, c.Name.Text, "", c.Clearance.At
		need.Note = "the connector's own clearance, more than"
	}
	return need
}
