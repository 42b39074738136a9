package checks

import (
	"fmt"
	"math"

	"hemline/lang"
	"hemline/lang/board"
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
	Of    string            // what a plain number counts, as a word for one: "tab"
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

// Says is what is left of what the rule holds to the limit, in few words: "0.40 mm to
// spare", "0.10 mm short at worst".
func (m Margin) Says() string {
	if m.AtWorst {
		return m.says(m.Worst, m.Short) + " at worst"
	}
	return m.says(m.Value, m.Short)
}

// says is what a value leaves of the limit, or misses it by: never more than is left, and never
// less than is missing.
func (m Margin) says(value quantity.Quantity, short bool) string {
	left := value
	left.Value = math.Abs(value.Value - m.Against.Value)
	none := left
	none.Value = 0
	if !short && left.Text(0) == none.Text(0) {
		return "just met"
	}
	text := left.Rough(short)
	if m.Of != "" {
		text += " " + m.Of
		if left.Value != 1 {
			text += "s"
		}
	}
	switch {
	case !short:
		return text + " to spare"
	case m.Most:
		return text + " too much"
	}
	return text + " short"
}

// misses tells whether a value that the rule itself does not hold to the limit would miss it.
func (m Margin) misses(value quantity.Quantity) bool {
	past := m.Against.Value - value.Value
	if m.Most {
		past = -past
	}
	return past > board.Tolerance
}

// Sentence says the whole of it: what is measured, who asks for what, what is left, and
// in the worst case what it comes to and what is left then. What the rule goes by is bold.
func (m Margin) Sentence() string {
	asks := "asks for at least"
	if m.Most {
		asks = "allows at most"
	}
	value, against := m.Value.Brief(), m.Against.As(m.Value.Unit).Brief()
	if value == against && m.Value.Value != m.Against.Value {
		value, against = quantity.Pair(m.Value, m.Against)
	}
	if m.Limit.Dim != m.Against.Dim {
		against = m.Limit.Quantity.String() + ", " + against
	}
	s := fmt.Sprintf("%s is %s; %s %s %s %s: ", m.What, value, m.Limit.Who, asks, against, m.Limit.From())
	if m.Because == "" {
		return s + "**" + m.says(m.Value, m.Short) + "**"
	}
	worst := m.Worst.As(m.Value.Unit)
	drawn, then := "**"+m.says(m.Value, m.Short)+"**", ""
	if m.AtWorst {
		drawn, then = m.says(m.Value, m.misses(m.Value)), "**"+m.says(worst, m.Short)+"**"
	} else {
		then = m.says(worst, m.misses(worst))
	}
	return fmt.Sprintf("%s%s; at worst, with %s, it is %s: %s", s, drawn, m.Because, worst.Brief(), then)
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
