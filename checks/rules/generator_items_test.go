package rules

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
)

// planTabs sets tabs so that neighbours are near enough to each other and none
// is near a corner; false where the shape leaves no room for that.
func (m *maker) planTabs(seed uint64) bool {
	if seed%9 == 4 {
		m.noted = true
		return true
	}
	var straight []*side
	for _, s := range m.sides {
		if !s.arc && (s.closed || s.length >= 2*m.tabPad(s)) {
			straight = append(straight, s)
		}
	}
	n := make([]int, len(straight))
	for i, s := range straight {
		n[i] = 1
		if m.shape == "tongue" && s.length > m.height {
			n[i] = 2 // the tongue's weight lies beyond the middles of the long sides
		}
	}
	if m.few {
		n = []int{2, 0, 1, 0}
	}
	for range 12 {
		m.tabs = nil
		fits := true
		for i, s := range straight {
			fits = m.spread(s, n[i]) && fits
		}
		if !fits {
			return false
		}
		if m.near() && m.steady() {
			m.chooseTabs()
			return true
		}
		longest := 0
		for i, s := range straight {
			if s.length/int64(n[i]+1) > straight[longest].length/int64(n[longest]+1) {
				longest = i
			}
		}
		n[longest]++
	}
	return false
}

// tabPad is how far from an edge's end the middle of a tab stays.
func (m *maker) tabPad(s *side) int64 {
	return max(m.min("tab_corner")+3_100_000, s.low+6*millimetre)
}

// spread puts n tabs on a side.
func (m *maker) spread(s *side, n int) bool {
	pad := m.tabPad(s)
	if s.closed {
		pad = 0
	}
	for i := range int64(n) {
		at := s.length * (2*i + 1) / int64(2*n)
		if !s.closed {
			at = min(max(at, pad), s.length-pad)
		}
		if !(n == 1 && m.chance(2)) { // else the very middle
			at = at / grain * grain
		}
		m.tabs = append(m.tabs, tabPlan{on: s, at: at})
	}
	if n > 0 && !s.closed && s.length-2*pad < int64(n-1)*10*millimetre {
		return false
	}
	return true
}

// spacing is how far apart tabs may be, nm, if all the outline is plated.
func (m *maker) spacing() float64 {
	return m.limits.TabSpacing(board.Value{Quantity: quantity.Nanometres(float64(m.thickness))}, true).Value
}

// near tells whether no two neighbouring tabs are too far apart.
func (m *maker) near() bool {
	var along []float64
	start := 0.0
	for _, s := range m.sides {
		for _, t := range m.tabs {
			if t.on != s {
				continue
			}
			at := float64(t.at)
			if s.axis > 2 { // on north and west positions run against the outline
				at = float64(s.length) - at
			}
			along = append(along, start+at)
		}
		start += float64(s.length) + 1
	}
	slices.Sort(along)
	for i, x := range along {
		next := start + along[0]
		if i+1 < len(along) {
			next = along[i+1]
		}
		if next-x > m.spacing() {
			return false
		}
	}
	return true
}

// steady tells whether there are tabs enough, and on so many sides that the
// board's middle lies between them.
func (m *maker) steady() bool {
	on := map[*side]bool{}
	for _, t := range m.tabs {
		on[t.on] = true
	}
	return len(m.tabs) >= max(3, int(m.min("tab_count"))) && (len(on) > 2 || m.few || m.sides[0].closed)
}

// chooseTabs says of what kind each tab is.
func (m *maker) chooseTabs() {
	perforated := m.chance(2)
	t := float64(m.thickness) / 1e6
	for i := range m.tabs {
		x := &m.tabs[i]
		x.perforated = perforated != m.chance(5)
		if x.perforated {
			x.width = m.between(max(m.min("tab_width_perforated"), m.waisted()), m.max("tab_width_perforated"))
			x.hole = m.between(m.min("perforation_hole"), m.min("perforation_hole")+100_000)
			x.pitch = x.hole + m.between(m.min("perforation_web"), m.min("perforation_web")+100_000)
			if x.on.arc || x.on.closed {
				x.pitch += x.pitch / 20 // inside the arc the holes are nearer
			}
			holes := (x.width-x.hole)/x.pitch + 1
			net := float64(x.width-holes*x.hole) / 1e6
			x.perforated = net > 0.4 && 689*net*t*t/6 < 1000
		}
		if !x.perforated {
			x.width = m.between(max(m.min("tab_width_solid"), m.waisted()), m.max("tab_width_solid"))
			x.length = pick(m, 0, 0, 2*millimetre, 3*millimetre)
		}
	}
}

// waisted is the width of the narrowest tab that the finest bit leaves two fifths of.
func (m *maker) waisted() int64 { return (m.min("router_bit")*5 + 2) / 3 }

// gapFor is how wide a gap for a tab is.
func (m *maker) gapFor(t tabPlan) int64 {
	bend := int64(0) // on a rim the way to the wall is shorter than along it
	if t.on.closed {
		bend = 2000
	}
	return max(m.min("gap_width"), t.width+2*m.min("tab_gap")+bend) + m.between(0, 500_000)
}

// tabsOn lists where tabs stand on a side, with what a gap round them takes.
func (m *maker) tabsOn(s *side) [][2]int64 {
	var list [][2]int64
	for _, t := range m.tabs {
		if t.on == s {
			half := max(m.min("gap_width"), t.width+2*m.min("tab_gap"))/2 + millimetre/2
			list = append(list, [2]int64{t.at - half, t.at + half})
		}
	}
	slices.SortFunc(list, func(a, b [2]int64) int { return int(a[0] - b[0]) })
	return list
}

// planWalls says what is plated.
func (m *maker) planWalls(seed uint64) bool {
	nets := []string{"GND", "CHASSIS", "\"0V\""}
	wall := m.wall(pick(m, "wall", "rim_wall", "shield"), pick(m, nets...))
	mode := seed % 7
	switch {
	case mode == 0 || mode == 5 || m.shape == "circle" && mode != 3:
		for _, s := range m.sides {
			s.wall, s.from, s.to = wall, 0, s.length
		}
	case mode == 3 || mode == 4:
		other := wall
		if mode == 4 {
			other = m.wall("strip", "EARTH")
		}
		some := 0
		for _, i := range m.r.Perm(len(m.sides)) {
			if s := m.sides[i]; !s.arc && some < 3 && m.part(s) {
				s.wall = []*wallPlan{wall, other}[some%2]
				some++
			}
		}
	default:
		for i, s := range m.sides {
			if uint64(i)%2 == seed%2 || m.chance(3) && mode != 6 {
				s.wall, s.from, s.to = wall, 0, s.length
			}
		}
	}
	if m.staged {
		m.sides[0].wall = nil
	}
	m.bareSome()
	m.shortenAtCorners()
	if m.noted && m.allRound() {
		return m.stopGap()
	}
	plated := false
	for _, s := range m.sides {
		plated = plated || s.wall != nil
	}
	return plated
}

func (m *maker) wall(name, net string) *wallPlan {
	w := &wallPlan{name: name, net: net}
	land := m.min("wrap_land")
	w.wrap = [2]int64{m.between(land, land+600_000), m.between(land, land+600_000)}
	if m.chance(2) {
		w.wrap[1] = w.wrap[0]
	}
	if m.chance(6) {
		w.wrap = [2]int64{max(land, 20*25_400), max(land, 30*25_400)}
	}
	w.copper = max(m.min("wall_copper"), pick(m, int64(20_000), 25_000, 30_000, 35_000))
	if m.chance(3) {
		w.copper = m.min("wall_copper")
	}
	if !m.chance(3) {
		margin := m.min("mask_margin")
		w.reach, w.margin = max(w.wrap[0], w.wrap[1])+m.between(margin, margin+200_000), margin
		if w.says = m.chance(3); w.says {
			w.margin = m.between(0, 200_000)
		}
	}
	m.walls = append(m.walls, w)
	return w
}

// part chooses a stretch of a side that ends well away from its tabs.
func (m *maker) part(s *side) bool {
	ends := []int64{s.low}
	for _, t := range m.tabsOn(s) {
		ends = append(ends, t[0], t[1])
	}
	ends = append(ends, s.high)
	var breaks []int64
	for i := 0; i+1 < len(ends); i += 2 {
		if ends[i+1]-ends[i] >= 10*millimetre {
			breaks = append(breaks, (ends[i]+ends[i+1])/2/grain*grain)
		}
	}
	if len(breaks) == 1 && ends[1]-ends[0] > 20*millimetre && len(ends) == 2 {
		breaks = []int64{s.length / 4 / grain * grain, s.length * 3 / 4 / grain * grain}
	}
	if len(breaks) < 2 {
		return false
	}
	s.from, s.to = breaks[0], breaks[len(breaks)-1]
	return true
}

// allRound tells whether all of the outline is plated but for gaps.
func (m *maker) allRound() bool {
	for _, s := range m.sides {
		if !s.whole() {
			return false
		}
	}
	return true
}

// bareSome takes plating away until there is not too much of it.
func (m *maker) bareSome() {
	for {
		bare, longest := 0.0, (*side)(nil)
		for _, s := range m.sides {
			switch {
			case s.wall == nil:
				bare += float64(s.high - s.low)
				continue
			case s.arc:
			case longest == nil || s.length > longest.length:
				longest = s
			}
			bare += float64(s.length - (s.to - s.from))
			for _, t := range m.tabs {
				if t.on == s && s.plated(t.at-t.width/2, t.at+t.width/2) {
					bare += float64(max(m.min("gap_width"), t.width+2*m.min("tab_gap")))
				}
			}
		}
		if 1-bare/m.perimeter <= m.limits.Maximum("plated_share").Value || m.noted && m.allRound() {
			return
		}
		if longest.closed {
			// A rim keeps a part of it.
			longest.from, longest.to = longest.length/20, longest.length*3/4
			return
		}
		longest.wall = nil
	}
}

// shortenAtCorners ends plating short of a sharp corner on whose other side the
// edge is bare: a wrap that went on to it would lie on that edge.
func (m *maker) shortenAtCorners() {
	if m.shape == "rounded" || m.sides[0].closed {
		return
	}
	n := len(m.sides)
	whole := make([]bool, n)
	for i, s := range m.sides {
		whole[i] = s.whole()
	}
	short := m.min("edge_clearance_outer")/grain*grain + 2*grain
	for i, s := range m.sides {
		if !whole[i] {
			continue
		}
		low, high := whole[(i+n-1)%n], whole[(i+1)%n]
		if s.axis > 2 { // on north and west positions run against the outline
			low, high = high, low
		}
		if !low {
			s.from = short
		}
		if !high {
			s.to -= short
		}
	}
}

// stopGap interrupts a wall that runs all round and whose tabs are the shop's
// to set, widely enough for the share of it.
func (m *maker) stopGap() bool {
	width := int64((1-m.limits.Maximum("plated_share").Value)*m.perimeter)/grain*grain + millimetre
	for _, s := range m.sides {
		if !s.arc && s.high-s.low > width+8*millimetre {
			m.gap(s, s.length/2/grain*grain, width, false, "")
			return true
		}
	}
	return false
}

// gap writes a gap, its width as a let or as it is.
func (m *maker) gap(s *side, at, width int64, let bool, rest string) {
	stretch := fmt.Sprintf("at %s width %s", m.at(s, at), m.size(width))
	switch {
	case let:
		m.head = append(m.head, "let scar = "+m.size(width))
		stretch = fmt.Sprintf("at %s width scar", m.at(s, at))
	case m.chance(4) && width%2 == 0:
		stretch = fmt.Sprintf("from %s to %s", m.size(at-width/2), m.size(at+width/2))
	}
	m.say("gap "+m.name("g"), "of "+s.wall.name, "on "+s.name, stretch, rest)
	s.taken = append(s.taken, [2]int64{at - width/2, at + width/2})
	if !strings.Contains(rest, "bridged") {
		m.open = append(m.open, width)
	}
}

// opens is the gap of what stands on a side, so wide there, in its own
// statement: as wide as it is asked to be, or less than 2 nm wider.
func (m *maker) opens(s *side, at, around, width int64, bridged bool) string {
	of := pick(m, "", s.wall.name+" ")
	long := "span " + m.size(width)
	if m.chance(2) {
		margin := (width - around + 1) / 2
		width, long = around+2*margin, "margin "+m.size(margin)
	}
	s.taken = append(s.taken, [2]int64{at - width/2, at + width/2})
	if !bridged {
		m.open = append(m.open, width)
		return "opens " + of + long
	}
	return "opens " + of + long + " bridged"
}

// writeTabs writes the tabs and the gaps that they stand in.
func (m *maker) writeTabs() {
	scar := m.chance(3) // the first gap's width is a let's
	agreed := m.chance(5)
	for _, t := range m.tabs {
		half := t.width / 2
		on := t.on.plated(t.at-half-m.min("tab_gap"), t.at+half+m.min("tab_gap"))
		t.premetallised = m.offers("premetallised_tabs") && on && m.chance(3) && m.roomForMetal()
		if agreed && !t.perforated && !t.premetallised {
			t.width, agreed = m.max("tab_width_solid")+100_000, false
			m.text = append(m.text, fmt.Sprintf("accept tab_width on %s because \"agreed: the frame is stiff\" until \"2999-12-31\"", fmt.Sprintf("t%d", m.names["t"]+1)))
		}
		switch opened := on && !t.premetallised; {
		case opened && !scar && m.chance(3):
			t.opens = m.opens(t.on, t.at, t.width, m.gapFor(t), false)
		case opened:
			m.gap(t.on, t.at, m.gapFor(t), scar, pick(m, "", "", fmt.Sprintf("for t%d", m.names["t"]+1)))
			scar = false
		default:
			t.on.taken = append(t.on.taken, [2]int64{t.at - half, t.at + half})
		}
		if t.premetallised {
			m.open = append(m.open, t.width) // its root, once it is cut
		}
		m.writeTab(t)
	}
}

// roomForMetal tells whether the wall may run on under tabs: bare sides alone
// keep enough of the outline bare.
func (m *maker) roomForMetal() bool {
	bare := 0.0
	for _, s := range m.sides {
		if s.wall == nil {
			bare += float64(s.high - s.low)
		} else {
			bare += float64(s.length - (s.to - s.from))
		}
	}
	return 1-bare/m.perimeter <= m.limits.Maximum("plated_share").Value
}

func (m *maker) writeTab(t tabPlan) {
	kind := "solid"
	if t.perforated {
		kind = fmt.Sprintf("perforated hole %s pitch %s", m.size(t.hole), m.size(t.pitch))
		if m.chance(3) {
			kind += " inset " + m.size(m.between(0, t.hole/2))
		}
	}
	metal, long := "", ""
	if t.premetallised {
		metal = "premetallised"
	}
	if t.length > 0 {
		long = "length " + m.size(t.length)
	}
	root := t.on.standing(fmt.Sprintf("t%d", m.names["t"]+1), "", throughAll, t.at, t.width, -1000, 2000)
	root.tab = true
	m.stand(root)
	if t.perforated {
		row := t.on.standing(root.item, "", throughAll, t.at, t.width, -t.hole/2, 2*t.hole)
		row.drill, row.bare, row.holes = true, true, true
		m.stand(row)
	}
	m.say("tab "+m.name("t"), "on "+t.on.name, "at "+m.at(t.on, t.at), "width "+m.size(t.width), kind, metal, long, t.opens)
}

// free looks for a place on a side with room on both sides of it.
func (m *maker) free(s *side, from, to, half int64) (int64, bool) {
	for range 24 {
		at := m.between(from+half, to-half)
		clash := at-half < from || at+half > to
		for _, t := range s.taken {
			clash = clash || at-half < t[1] && t[0] < at+half
		}
		if !clash {
			return at, true
		}
	}
	return 0, false
}

// connectors puts some on plated sides.
func (m *maker) connectors() {
	if m.noted {
		return
	}
	for _, s := range m.sides {
		if s.wall == nil || s.arc || s.closed || m.chance(2) {
			continue
		}
		body := m.between(6*millimetre, 9_500_000)
		from, to := max(s.from, s.low)+3*millimetre, min(s.to, s.high)-3*millimetre
		at, ok := m.free(s, from, to, body/2+3*millimetre)
		if !ok {
			continue
		}
		m.connector(s, at, body)
	}
}
