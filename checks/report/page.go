package report

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/finding"
)

// parts are the report as people read it, what fails first in front.
func (r *Report) parts() []part {
	list := []part{r.asked(), r.givesFirst(), r.boardPart(), r.openingsPart(), r.cavitiesPart()}
	for i := 0; i < len(r.Items); {
		k := i
		for ; k < len(r.Items) && r.Items[k].Kind == r.Items[i].Kind; k++ {
		}
		list = append(list, tabulate(r.Items[i:k]))
		i = k
	}
	list = append(list, r.acceptedPart(), r.leftPart())
	return slices.DeleteFunc(list, func(p part) bool { return len(p.rows) == 0 && len(p.notes) == 0 })
}

// asked are the answers to what the board asks for, what is short first.
func (r *Report) asked() part {
	p := part{title: "what the board asks for", head: []string{"asked", "verdict", "why"}, right: make([]bool, 3), list: true}
	for _, verdict := range []string{"short", "not verified", "met"} {
		for _, a := range r.Asked {
			if a.Verdict == verdict {
				p.rows = append(p.rows, []string{a.Asked, a.Verdict, a.Why + a.agreed()})
			}
		}
	}
	return p
}

// givesFirst names the smallest margins, the worst opening and the weakest of each kind.
func (r *Report) givesFirst() part {
	p := part{title: "what gives first", head: []string{"of", "figure", "against"}, right: make([]bool, 3), list: true}
	for _, f := range r.First {
		p.rows = append(p.rows, []string{f.Of, f.Figure.Name + " " + f.Figure.Show(), f.why()})
	}
	return p
}

func (r *Report) boardPart() part { return list("board "+r.Board.Name, r.Board.Figures) }

// length, share and level are an opening's figures.
func (o Opening) length() Figure {
	f := Figure{Name: "longest dimension", Value: &o.Length, Unit: "mm"}
	return f.atWorst(o.Worst.Length)
}

func (o Opening) share() Figure { return pair("% of λ", o.Length, o.Share, o.Worst.Share, "%") }
func (o Opening) levels() Figure {
	return pair("alone at most", o.Length, o.Holds, o.Worst.Holds, "dB")
}

// pair is a figure as drawn and at worst; without a value where it is closed as drawn.
func pair(name string, length float64, value, worst *float64, unit string) Figure {
	if worst == nil {
		return Figure{Name: name}
	}
	if value == nil || length == 0 {
		return Figure{Name: name, Unit: unit, Worst: worst}
	}
	f := Figure{Name: name, Unit: unit, Value: value}
	return f.atWorst(*worst)
}

// openingsPart lists the openings, what leaks most first. Those that are alike
// but for their place are one row.
func (r *Report) openingsPart() part {
	p := part{title: "openings, what leaks most first", head: []string{"", "length, mm", "of λ, %", "alone at most, dB", "where"}, right: []bool{false, true, true, true, false}}
	if !slices.ContainsFunc(r.Openings, func(o Opening) bool { return o.Worst.Share != nil }) {
		p.head, p.right = []string{"", "length, mm", "where"}, []bool{false, true, false}
	}
	var n footnotes
	type row struct {
		names, cells []string
		where        string
		places       int
	}
	var rows []*row
	at := map[string]*row{}
	for _, o := range r.Openings {
		key := o.reads()
		if o.plain() {
			key += o.Where
		}
		if same := at[key]; same != nil {
			same.places++
			if !slices.Contains(same.names, o.name()) {
				same.names = append(same.names, o.name())
			}
			continue
		}
		cells := o.cells()[:len(p.head)-2]
		if o.Worst.By != "" {
			cells[0] += n.mark("with " + o.Worst.By)
		}
		at[key] = &row{[]string{o.name()}, cells, o.Where, 1}
		rows = append(rows, at[key])
	}
	for _, x := range rows {
		if x.places > 1 {
			x.where = fmt.Sprintf("%d places", x.places)
		}
		p.rows = append(p.rows, slices.Concat([]string{together(x.names)}, x.cells, []string{x.where}))
	}
	p.notes = n.lines()
	return p
}

// cells are an opening's length, share of the wavelength and level, for a table.
func (o Opening) cells() []string {
	length := o.length().cell()
	if o.Length == 0 {
		length = "closed, at worst " + number(o.Worst.Length, "mm")
	}
	return []string{length, o.share().cell(), o.levels().cell()}
}

// reads is what a table says of an opening, but for its place and name.
func (o Opening) reads() string { return strings.Join(append(o.cells(), o.Worst.By), "\n") }

// together joins names of one kind: "tabs t1, t2".
func together(names []string) string {
	word, _, _ := strings.Cut(names[0], " ")
	if !slices.Contains([]string{"tab", "connector", "gap"}, word) || slices.ContainsFunc(names, func(s string) bool { return !strings.HasPrefix(s, word+" ") }) || len(names) == 1 {
		return strings.Join(names, ", ")
	}
	rest := make([]string, len(names))
	for i, s := range names {
		rest[i] = s[len(word)+1:]
	}
	return word + "s " + strings.Join(rest, ", ")
}

// plain tells that nothing but its place names it.
func (o Opening) plain() bool { return o.Gap == "" && o.OpenedBy == "" && o.Tab == "" }

func (o Opening) name() string {
	switch {
	case o.Gap != "":
		return "gap " + o.Gap
	case o.OpenedBy != "":
		return o.OpenedBy
	case o.Tab != "":
		return "root of " + o.Tab
	}
	return "not plated"
}

func (r *Report) acceptedPart() part {
	p := part{title: "accepted", head: []string{"rule", "on", "finding", "because"}, right: make([]bool, 4)}
	for _, a := range r.Accepted {
		because := a.Because
		if a.Until != "" {
			because += ", until " + a.Until
		}
		p.rows = append(p.rows, []string{a.Rule, finding.Parties(a.Items), a.Message, because})
	}
	return p
}

func (r *Report) leftPart() part {
	p := part{title: "left to the shop", head: []string{"queries", "because"}, right: make([]bool, 2)}
	for _, l := range r.Left {
		p.rows = append(p.rows, []string{l.what(), l.Because})
	}
	return p
}

// what names what is left, and on which edges.
func (l Left) what() string {
	s := strings.Join(l.Queries, " ")
	if len(l.Along) > 0 {
		s += ", along " + strings.Join(l.Along, " ")
	}
	return s
}

// agreed says that it is accepted that something is not verified, and why.
func (a Asked) agreed() string {
	if a.Accepted == "" {
		return ""
	}
	return " (accepted because: " + a.Accepted + ")"
}

func (r *Report) findings() string {
	var parts []string
	for _, c := range slices.Backward(finding.Categories()) {
		if n := r.Findings[c]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, c))
		}
	}
	if len(parts) == 0 {
		parts = []string{"none"}
	}
	s := strings.Join(parts, ", ")
	if n := len(r.Accepted); n > 0 {
		s += fmt.Sprintf("; %d accepted", n)
	}
	return s
}
