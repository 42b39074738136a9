package checks

import (
	"fmt"

	"hemline/lang"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Margin is a value as a rule held it to a limit, met or not: what the rule itself
// measured, where its finding stands or would stand.
type Margin struct {
	Rule  *Rule
	At    source.Place
	What  string            // that is measured: "wrap on top"
	Value quantity.Quantity // of it
	// Limit is who asks, and Against what that comes to here, of Value's kind: the
	// limit itself, half of it, a share of a wavelength.
	Limit   Limit
	Against quantity.Quantity
	Most    bool // the limit is a maximum
	Short   bool // the rule reports it
	// Worst is what is left of Value, or what it comes to, with tolerances, and Because
	// which ones those are; "" where none counts.
	Worst   quantity.Quantity
	Because string
	AtWorst bool // it is Worst that the rule holds to the limit
}

// Left is how far the value keeps the limit, or misses it; never under 0.
func (m Margin) Left() quantity.Quantity {
	left := m.Value
	if m.AtWorst {
		left = m.Worst
	}
	left.Value -= m.Against.Value
	if left.Value < 0 {
		left.Value = -left.Value
	}
	return left
}

// Says is what is left, in few words: "0.40 mm to spare", "0.10 mm short".
func (m Margin) Says() string {
	if text := m.Left().Text(0); !m.Short {
		if text == m.nothing() {
			return "just met"
		}
		return text + " to spare"
	}
	text := m.Left().Text(0)
	for more := 1; text == m.nothing() && more < 9; more++ {
		text = m.Left().Text(more)
	}
	if m.Most {
		return text + " too much"
	}
	return text + " short"
}

// nothing is how none of the value's kind is written.
func (m Margin) nothing() string {
	none := m.Value
	none.Value = 0
	return none.Text(0)
}

// Sentence says the whole of it: what is measured, who asks for what, what is left,
// and the worst case.
func (m Margin) Sentence() string {
	value, against := quantity.Pair(m.Value, m.Against)
	asks := "asks for at least"
	if m.Most {
		asks = "allows at most"
	}
	if m.Limit.Dim != m.Against.Dim {
		against = m.Limit.Quantity.String() + ", " + against
	}
	s := fmt.Sprintf("%s is %s; %s %s %s %s: **%s**", m.What, value, m.Limit.Who, asks, against, m.Limit.From(), m.Says())
	switch {
	case m.AtWorst:
		s += fmt.Sprintf(" at worst, %s with %s", m.Worst.As(m.Value.Unit), m.Because)
	case m.Because != "":
		s += fmt.Sprintf("; at worst %s with %s", m.Worst.As(m.Value.Unit), m.Because)
	}
	return s
}

// Weighs tells whether a pass is run for its margins: Held notes them then, and a
// rule looks MarginBeyond farther for pairs.
func (p *Pass) Weighs() bool { return p.weighs }

// Held notes what the rule that is running held to a limit.
func (p *Pass) Held(m Margin) {
	m.Rule = p.rule
	p.margins = append(p.margins, m)
}

// MarginBeyond is how much farther apart than their limit asks pairs are still
// told of as margins, nm: what is farther off is nobody's concern.
const MarginBeyond = 1e6

// maxMargins bounds what a row of a million half holes can tell.
const maxMargins = 100_000

// Margins lists what the rules hold to limits on a board, in the rules' order and
// each rule's own. It is a check of its own by the rules that read limits: nothing
// of it is kept for the next version. Of the options those count that say what the
// board is held to.
func (c Catalogue) Margins(a *lang.Analysis, o Options) []Margin {
	p := c.pass(a, Options{Today: o.Today, Limits: o.Limits, Modes: o.Modes, Later: true})
	if p.Limits == nil {
		p.Limits = LimitsFor(a)
	}
	p.weighs = true
	for _, r := range c {
		if len(r.Limits) == 0 || r.AllRun || len(p.margins) > maxMargins {
			continue
		}
		p.rule, p.full = r, false
		p.found = p.found[:0]
		r.Run(p)
	}
	return p.margins
}
