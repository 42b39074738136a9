package checks

import "hemline/lang/copper"

// Room is how much room planes give by the limits.
func (l *Limits) Room() copper.Room {
	return copper.Room{
		Copper:    l.Minimum("copper_clearance").Value,
		EdgeOuter: l.Minimum("edge_clearance_outer").Value, EdgeInner: l.Minimum("edge_clearance_inner").Value,
		Wrap: l.Minimum("wrap_clearance").Value, WallInner: l.Minimum("inner_clearance").Value,
	}
}
