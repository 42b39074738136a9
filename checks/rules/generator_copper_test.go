package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// castellations puts rows of half holes on bare sides.
func (m *maker) castellations() {
	if !m.offers("half_holes") {
		return
	}
	for _, s := range m.sides {
		if s.wall != nil || s.arc || s.closed || m.chance(2) {
			continue
		}
		hole := m.between(m.min("castellation_hole"), m.min("castellation_hole")+400_000)
		wide := hole + 2*m.between(m.min("castellation_ring"), m.min("castellation_ring")+100_000)
		deep := hole/2 + m.between(m.min("castellation_ring"), m.min("castellation_ring")+400_000)
		pitch := max(hole+m.min("castellation_spacing"), wide+2*m.min("mask_margin")+m.min("mask_web")) + m.between(0, 500_000)
		n := int64(m.r.IntN(5) + 1)
		half := (n-1)*pitch/2 + wide/2 + millimetre
		at, ok := m.free(s, s.low+5*millimetre, s.high-5*millimetre, half)
		if !ok {
			continue
		}
		name, nets := fmt.Sprintf("row%d", m.names["row"]+1), []string{"GND"}
		if n > 1 && m.chance(2) {
			nets = slices.Repeat([]string{"S1"}, int(n))
		}
		margin, relief := m.min("mask_margin"), ""
		if m.chance(2) {
			relief = pick(m, "on top bottom", "on bottom")
		}
		var stands []blob
		for i := range n {
			x, net := at-(n-1)*pitch/2+i*pitch, nets[i%int64(len(nets))]
			barrel, land := disc(name, net, throughAll, s.point(float64(x), 0), hole), s.standing(name, net, onTop|onBottom, x, wide, 0, deep)
			barrel.copper, barrel.drill, barrel.half, land.copper, land.half = true, true, true, true, true
			stands = append(stands, barrel, land)
			if relief != "" {
				open := s.standing(name, net, onTop|onBottom, x, wide+2*margin, 0, deep+margin)
				open.mask = true
				stands = append(stands, open)
			}
		}
		if !m.fits(stands...) {
			continue
		}
		m.stand(stands...)
		m.name("row")
		stretch := "at " + m.at(s, at)
		if n > 1 {
			from := at - (n-1)*pitch/2
			stretch = fmt.Sprintf("from %s to %s pitch %s", m.size(from), m.size(from+(n-1)*pitch+m.between(0, pitch/3)), m.size(pitch))
		}
		m.say("castellation "+name, "on "+s.name, stretch, "hole "+m.size(hole), fmt.Sprintf("land %s by %s", m.size(wide), m.size(deep)), "net "+strings.Join(nets, " "))
		if relief != "" {
			m.bared = max(m.bared, deep+margin)
			m.say("relief "+m.name("bare"), "over "+name, relief, "reach "+m.size(deep+margin), "margin "+m.size(margin))
		}
		s.taken = append(s.taken, [2]int64{at - half, at + half})
	}
}

// writeCutouts opens the board, and plates some of the openings.
func (m *maker) writeCutouts() {
	for range m.r.IntN(3) {
		plate := m.offers("plated_cutouts") && m.chance(2)
		least := m.min("slot_width")
		if plate {
			least = m.min("plated_slot_width")
		}
		wide, long := m.between(least, least+2*millimetre), m.between(5*millimetre, 8*millimetre)
		r := float64(long)/2 + 1e5
		kind := pick(m, "slot", "circle", "rectangle", "drawn")
		if kind == "rectangle" || kind == "drawn" {
			wide = max(m.between(4*millimetre, 6*millimetre), m.min("gap_width")+m.min("router_bit")+millimetre)
			r = math.Hypot(float64(long), float64(wide)) / 2
		}
		opening := func(d dot) []blob {
			b := disc(fmt.Sprint("opening", len(m.holes)), "", throughAll, d, int64(2*r))
			b.cutout = true
			return []blob{b}
		}
		at, ok := m.place(r+float64(2*m.keepOff+2*millimetre), opening)
		if !ok {
			continue
		}
		m.holes, m.radii = append(m.holes, at), append(m.radii, r)
		m.cutout(kind, at, long, wide, plate)
	}
}

// end writes where a stretch of a side ends: its last nanometre is the side's own.
func (m *maker) end(s *side, at int64) string {
	if at == s.length {
		return s.name + ".length"
	}
	return m.size(at)
}

func (m *maker) cutout(kind string, at dot, long, wide int64, plate bool) {
	name := m.name(pick(m, "window", "opening"))
	corner := (m.min("router_bit")+1)/2 + m.between(0, 300_000)
	var edges []string
	switch kind {
	case "slot":
		m.say("cutout "+name, fmt.Sprintf("slot %s by %s turned %d deg", m.size(long), m.size(wide), m.r.IntN(12)*15), "at "+m.dot(at))
		edges = []string{".rim"}
	case "circle":
		m.say("cutout "+name, "circle "+m.size(long), "at "+m.dot(at))
		edges = []string{".rim"}
	case "rectangle":
		m.say("cutout "+name, fmt.Sprintf("rectangle %s by %s corner %s", m.size(long), m.size(wide), m.size(corner)), "at "+m.dot(at))
		edges = []string{".south", ".north"}
		if m.chance(2) {
			edges = []string{".south", ".east", ".north", ".west"}
		}
	case "drawn": // a D: a straight side, and half a circle of its length
		h := wide / 2 / 2 * 2
		p := func(x, y int64) string { return m.dot(dot{at.x + float64(x), at.y + float64(y)}) }
		c := corner
		m.say("cutout "+name, "start "+p(-h/2+c, -h/2), "line below to "+p(h/2-c, -h/2), fmt.Sprintf("arc c1 to %s around %s", p(h/2, -h/2+c), p(h/2-c, -h/2+c)),
			"line right to "+p(h/2, h/2-c), fmt.Sprintf("arc c2 to %s around %s", p(h/2-c, h/2), p(h/2-c, h/2-c)), "line above to "+p(-h/2+c, h/2),
			fmt.Sprintf("arc c3 to %s around %s", p(-h/2, h/2-c), p(-h/2+c, h/2-c)), "line left to "+p(-h/2, -h/2+c), fmt.Sprintf("arc c4 to %s around %s", p(-h/2+c, -h/2), p(-h/2+c, -h/2+c)))
		edges = []string{".below", ".c1", ".right", ".c2", ".above", ".c3", ".left", ".c4"}
	}
	if !plate {
		return
	}
	w := m.walls[0]
	if m.chance(2) || w.onCutout {
		w = m.wall(m.name("bore"), pick(m, "GND", "ANT", "CHASSIS"))
		w.onCutout = true
	}
	for _, e := range edges {
		w.on = append(w.on, name+e)
	}
	m.keepOff = max(m.keepOff, w.wrap[0]+m.min("wrap_clearance"), w.wrap[1]+m.min("wrap_clearance"), w.reach+m.min("mask_margin")+m.min("mask_web"))
}

// writeWalls writes the platings and their reliefs.
func (m *maker) writeWalls() {
	for _, w := range m.walls {
		var lines, whole []string
		all := true
		for _, s := range m.sides {
			switch {
			case s.wall != w:
				all = false
			case s.whole():
				whole = append(whole, s.name)
			default:
				all = false
				lines = append(lines, fmt.Sprintf("along %s from %s to %s", s.name, m.size(s.from), m.end(s, s.to)))
			}
		}
		if all {
			whole = []string{"all"}
		}
		whole = append(whole, w.on...)
		if len(whole) > 0 {
			lines = append(lines, "along "+strings.Join(whole, " "))
		}
		if len(lines) == 0 {
			continue
		}
		extend := m.min("extension")
		lines = append(lines, "net "+w.net, "copper "+m.size(w.copper), "wrap top "+m.size(w.wrap[0]), "wrap bottom "+m.size(w.wrap[1]),
			"extend "+m.size(m.between(extend, extend+100_000)))
		if m.chance(2) {
			lines = append(lines, "finish ENIG")
		}
		lines = append(lines, m.ties(w)...)
		m.say("plating "+w.name, lines...)
		if w.reach > 0 {
			margin := ""
			if w.says {
				margin = "margin " + m.size(w.margin)
			}
			if m.chance(3) { // each face's as wide as it asks for
				deep := w.wrap[1] + m.min("mask_margin")
				m.say("relief "+m.name("lid"), "over "+w.name, "on top", "reach "+m.size(w.reach), margin)
				m.say("relief "+m.name("lid"), "over "+w.name, "on bottom", "reach "+m.size(deep), margin)
				continue
			}
			m.say("relief "+m.name("lid"), "over "+w.name, "on top bottom", "reach "+m.size(w.reach), margin)
		}
	}
}

// ties says which layers a wall joins, and gives those layers planes.
func (m *maker) ties(w *wallPlan) []string {
	if m.staged {
		return nil
	}
	layers := m.copper
	if len(layers) == 0 {
		layers = []string{"top", "bottom"}
	}
	var of []string
	for _, l := range layers {
		if m.planeOf(l) == "" && !m.chance(3) {
			m.setPlane(l, w.net)
		}
		if m.planeOf(l) == w.net {
			of = append(of, l)
		}
	}
	if len(of) == 0 || m.chance(3) {
		return nil
	}
	if len(of) == len(m.copper) && m.chance(2) {
		return []string{"layers all"}
	}
	return []string{"layers " + strings.Join(of, " ")}
}

func (m *maker) planeOf(layer string) string { return m.planeNets[layer] }

func (m *maker) setPlane(layer, net string) {
	if m.planeNets == nil {
		m.planeNets = map[string]string{}
	}
	m.planeNets[layer] = net
}

// writePlanes writes the planes, pulled back as far as their nets ask.
func (m *maker) writePlanes() {
	if m.staged {
		return
	}
	for _, l := range []string{"top", "ground", "power", "bottom"} {
		net := m.planeOf(l)
		inner := l == "ground" || l == "power"
		if net == "" {
			if inner && len(m.copper) < 4 || m.chance(2) {
				continue
			}
			net = pick(m, "V5", "\"+3V3\"", "")
			m.setPlane(l, net)
		}
		m.planeLayers++
		back := m.min("edge_clearance_outer")
		if inner {
			back = m.min("edge_clearance_inner")
		}
		if !inner {
			back = max(back, m.bared)
		}
		for _, w := range m.walls {
			switch face := map[string]int{"top": 0, "bottom": 1}[l]; {
			case net == w.net:
			case inner:
				back = max(back, m.min("inner_clearance"))
			default:
				back = max(back, w.wrap[face]+m.min("wrap_clearance"), w.reach)
			}
		}
		if net != "" {
			net = "net " + net
		}
		m.say("plane on "+l, net, "pullback "+m.size(back+m.between(0, 500_000)))
	}
}

func (m *maker) notes() {
	if m.noted {
		m.text = append(m.text, `leave tab_places to shop because "where the edge is bare"`)
	}
	for _, w := range m.walls {
		if m.chance(3) { // nothing is worked out from it
			m.text = append(m.text, fmt.Sprintf(`note "The housing touches %s on both faces."`, w.name))
		}
	}
	if m.chance(3) {
		m.text = append(m.text, `note "Continuity of the wall: at most 20 mohm, four-wire."`)
	}
}

// agree accepts that something the board asks for is not verified.
func (m *maker) agree(clause string) {
	m.say("accept not_verified", "on board."+clause, "because \"measured on the first article\"")
}

// opening is how much of the outline is open at worst, nm, as if all leaked together:
// the openings, and all that is not plated; 0 where nothing is.
func (m *maker) opening() float64 {
	end := 2 * float64(m.min("tolerance_gaps"))
	sum, plated := 0.0, 0.0
	for _, o := range m.open {
		sum += max(float64(o), float64(m.thickness)*1.5) + end
	}
	for _, s := range m.sides {
		if s.wall != nil {
			plated += float64(s.to - s.from)
		}
	}
	if !m.allRound() {
		sum += m.perimeter - plated + float64(m.thickness)*1.5 + end*float64(len(m.sides))
		if len(m.sides) > 1 { // corners that are plated count as sides, longer than they are
			sum += 0.5 * plated
		}
	}
	return sum
}

// info writes what the board asks of its wall: less than it gives.
func (m *maker) info() {
	const c = 299_792_458.0
	er := m.er
	if len(m.copper) == 0 {
		er = 4.3
	}
	// At worst: the board is thicker, two vias are off their places, and a wall
	// ends farther off on either side of an opening.
	longest := int64(math.Ceil(float64(m.thickness) * (1 + m.limits.Minimum("tolerance_thickness").Value)))
	if m.fencePitch > 0 {
		longest = max(longest, m.fencePitch+2*m.min("tolerance_position"))
	}
	for _, o := range m.open {
		longest = max(longest, o+2*m.min("tolerance_gaps"))
	}
	top := 0.05 * c / math.Sqrt(er) / (float64(longest) / 1e9)
	if m.planeLayers > 1 {
		top = min(top, 0.9*c/(4*math.Sqrt(er)*float64(max(m.width, m.height))/1e9))
	}
	if open := m.opening(); open > 0 && m.chance(4) { // so low that what is bare matters little
		top = min(top, max(c/math.Sqrt(er)/(8*open/1e9), 200e6))
	}
	mhz := math.Floor(top / 1e6 * pick(m, 0.4, 0.8, 0.99))
	lines := []string{`title "Made board"`, `revision "A"`}
	copper := int64(math.MaxInt64)
	for _, w := range m.walls {
		copper = min(copper, w.copper)
	}
	class := 1 + m.r.IntN(3)
	if copper < 25_000 {
		class = 1 + m.r.IntN(2)
	}
	lines = append(lines, fmt.Sprintf("class %d", class))
	if !m.chance(4) {
		f := fmt.Sprintf("frequency %g MHz", mhz)
		if m.chance(4) {
			f = fmt.Sprintf("frequency %d MHz to %g MHz", 12+m.r.IntN(20), mhz)
		}
		lines = append(lines, f)
		lambda := c / math.Sqrt(er) / (mhz * 1e6)
		open := m.opening()
		bound := 20 * math.Log10(lambda/2/(open/1e9))
		skin := math.Sqrt(1.7241e-8 / (math.Pi * mhz * 1e6 * 4 * math.Pi * 1e-7))
		bound = math.Floor(min(bound, 60, 8.686*float64(copper)/1e9/skin) * 0.95)
		if bound >= 1 && m.chance(2) {
			lines = append(lines, fmt.Sprintf("shielding %g dB", bound))
			if open == 0 {
				m.agree("shielding")
			}
		}
	} else if m.chance(3) {
		lines = append(lines, "shielding 20 dB")
		m.agree("shielding")
	}
	switch m.r.IntN(9) {
	case 0, 1, 2:
		rise := float64(10 + m.r.IntN(80))
		square := float64(m.thickness) / 25400 * float64(copper) / 25400
		lines = append(lines, fmt.Sprintf("current %.1f A", 0.95*0.048*math.Pow(rise, 0.44)*math.Pow(square, 0.725)-0.05), fmt.Sprintf("rise %g K", rise))
	case 3:
		lines = append(lines, "current 40 A")
		m.agree("current")
	case 4:
		lines = append(lines, "rise 50 K")
		m.agree("rise")
	}
	switch m.r.IntN(8) {
	case 0:
		lines = append(lines, fmt.Sprintf("voltage %d V", 1+m.r.IntN(60)), "hazard none")
	case 1:
		lines = append(lines, "hazard protective_earth")
		m.agree("hazard")
	}
	if len(m.copper) == 0 {
		lines = append(lines, "thickness "+m.size(m.thickness))
	}
	board := "board made_board {\n  " + strings.Join(lines, "\n  ") + "\n}"
	if text := m.shopText(); text != "" {
		board = text + "\n\n" + board
	}
	m.head = append([]string{board}, m.head...)
}
