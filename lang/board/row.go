package board

import (
	"fmt"
	"slices"

	"hemline/lang/finding"
	"hemline/lang/syntax"
)

// rowed are the kinds of which one statement may place several, by its `at`.
var rowed = []string{"hole", "connector", "tab", "feature", "part", "cutout"}

// all are the items of the statement: one, or the members of a row.
func (d *decoded) all() []any {
	switch {
	case d.members != nil:
		return d.members
	case d.item != nil:
		return []any{d.item}
	}
	return nil
}

// states is how many items the statement states, whether or not they could be read.
func (d *decoded) states() int { return max(d.rowed, 1) }

// take gives the statement its item, or of a row its members, each named after
// the row with a number; of planes on several layers each goes by its layer.
func (d *decoded) take(m *meaning, r *syntax.Reading, base Item) {
	if on := r.Get("on"); d.word == "plane" && on != nil && len(on.Values) > 1 {
		d.rowed = len(on.Values)
		for _, p := range m.planes(r, base) {
			d.members = append(d.members, p)
		}
		return
	}
	at := r.Get("at")
	if at == nil || !slices.Contains(rowed, d.word) {
		d.item = d.kind.read(m, r, base)
		return
	}
	n := len(at.Values) // bounded by how long a line may be
	if nets := r.Get("net"); nets != nil && len(nets.Values) > 1 && len(nets.Values) != n {
		positions := fmt.Sprintf("are %d positions and", n)
		if n == 1 {
			positions = "is 1 position and there are"
		}
		m.report(RuleWrongValue, nets.Place(), "there %s %d nets; give one net, or one for each position", positions, len(nets.Values))
	}
	if n < 2 {
		d.item = d.kind.read(m, r, base)
		return
	}
	d.rowed = n
	for i := range n {
		b := base
		b.Row, b.Name.Text = base.Name, fmt.Sprint(base.Name.Text, ".", i+1)
		if x := d.kind.read(m, r.Member(i), b); x != nil {
			d.members = append(d.members, x)
		}
	}
	m.findings = once(m.findings, func(f finding.Finding) any { return [3]any{f.Rule, f.Place, f.Message} })
	m.missing = once(m.missing, func(x missing) any { return x })
	m.unlikely = once(m.unlikely, func(u Unlikely) any { return u.Value.At })
}

// once leaves of what is the same for several members the first.
func once[T any](list []T, key func(T) any) []T {
	seen := map[any]bool{}
	return slices.DeleteFunc(list, func(x T) bool {
		k := key(x)
		again := seen[k]
		seen[k] = true
		return again
	})
}
