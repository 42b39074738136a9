package syntax

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/quantity"
)

// Each clause of a length says what is plausible for it, and each value that
// may hold a length otherwise is one of those that other means hold.
func TestEachLengthHasAPlausibleRange(t *testing.T) {
	// Why there is no range for the values of these kinds.
	without := map[ValueKind]string{
		VPosition: "it must lie on its edge",
		VPoint:    "what stands there must lie on the board",
		VExpr:     "a fabricator's limit, whose range follows from its built-in value",
	}
	seen := map[string]bool{}
	kinds := map[ValueKind]bool{}
	var walk func(path string, s *Spec)
	walk = func(path string, s *Spec) {
		for _, a := range s.Args {
			kinds[a.Kind] = true
			if a.Kind != VQuantity || a.Dim != quantity.Length {
				assert.Nil(t, a.Likely, path)
				continue
			}
			assert.False(t, seen[path], "%s: one length a clause", path)
			seen[path] = true
			if assert.NotNil(t, a.Likely, "%s: what is plausible for it", path) {
				assert.Less(t, a.Likely.Least.Value, a.Likely.Most.Value, path)
				assert.Equal(t, quantity.Length, a.Likely.Least.Dim, path)
				assert.Equal(t, quantity.Length, a.Likely.Most.Dim, path)
				assert.Positive(t, a.Likely.Least.Value, path)
				assert.NotEmpty(t, a.Likely.Source, path)
			}
		}
		for _, c := range s.Clauses {
			walk(path+" "+c.Word, c)
		}
	}
	for _, s := range Vocabulary() {
		walk(s.Word, s)
	}
	for path := range likely {
		assert.True(t, seen[path], "%s: no clause of a length", path)
	}
	notLengths := []ValueKind{VQuantity, VNew, VName, VItem, VWord, VText, VDate, VRef, VEdge, VFace, VLayer, VRule, VParameter}
	for k := range kinds {
		if without[k] == "" {
			assert.Contains(t, notLengths, k, "a kind of value that is neither a length nor none")
		}
	}
	for _, u := range quantity.Units() {
		if u.Dim == quantity.Length && u.Name != "µm" && u.Name != "μm" { // as um
			assert.NotEmpty(t, slips[u.Name], "%s: the units that are meant", u.Name)
		}
	}
}

// The unit that is likely meant is the first that makes the number plausible.
func TestTheUnitThatIsMeant(t *testing.T) {
	wall, stack, hole, outline := Within("3 um", "200 um", ""), foil(Within("4 um", "500 um", "")), Within("0.05 mm", "25 mm", ""), Within("1.5 mm", "2 m", "")
	for _, c := range []struct {
		in      Likely
		written string
		meant   string
	}{
		{wall, "25 mm", "25 um"}, {wall, "1 mm", "1 mil"}, {wall, "0.025 um", "0.025 mm"}, {wall, "0.5 um", "0.5 mil"}, {wall, "0.0001 um", ""}, {wall, "25 mil", "25 um"},
		{stack, "35 mm", "35 um"}, {stack, "1 mm", "1 oz"}, {stack, "1 um", "1 oz"}, {stack, "35 oz", "35 um"},
		{hole, "0.3 m", "0.3 mm"}, {hole, "40 mm", "40 mil"}, {hole, "1.2 µm", "1.2 mm"}, {hole, "12 m", "12 mm"},
		{outline, "60 um", "60 mm"}, {outline, "0.5 mil", "0.5 in"}, {outline, "1200 in", "1200 mil"}, {outline, "1e9 mm", ""},
	} {
		q, ok := Quantity(c.written)
		assert.True(t, ok && !c.in.Holds(q.Value), c.written)
		m, ok := c.in.Meant(q)
		text := ""
		if ok {
			text, _ = m.Exact(m.Unit, 9)
		}
		assert.Equal(t, c.meant, text, c.written)
	}
	assert.True(t, hole.Holds(0), "none at all")
	assert.True(t, hole.Holds(-50e3) && hole.Holds(25e6), "the ends, and the other way")
	assert.False(t, hole.Holds(50e3-1) || hole.Holds(25e6+1))
}
