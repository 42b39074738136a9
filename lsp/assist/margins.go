package assist

import (
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/source"
)

// Margins are what the values of a text leave of the limits that it is held to. They
// are worked out once for a version and kept.
func Margins(a *lang.Analysis, kept *Shown, o checks.Options) []checks.Margin {
	if kept == nil {
		return rules.All().Margins(a, o)
	}
	kept.weighed.Do(func() { kept.margins = rules.All().Margins(a, o) })
	return kept.margins
}

// marginLines tells of the margins of what stands at an offset of the root text, what is
// short first and then what leaves least.
func marginLines(a *lang.Analysis, list []checks.Margin, offset int) string {
	list = slices.DeleteFunc(slices.Clone(list), func(m checks.Margin) bool {
		at, ok := placed(a, m)
		return !ok || !at.Contains(offset)
	})
	slices.SortStableFunc(list, tighter)
	const most = 6
	var b strings.Builder
	for i, m := range list {
		if i == most {
			break
		}
		b.WriteString("- " + m.Sentence() + "\n")
	}
	return b.String()
}

// placed is where a margin's value stands in the root text.
func placed(a *lang.Analysis, m checks.Margin) (source.Span, bool) {
	file, span, ok := a.Locate(m.At)
	return span, ok && file == a.Root()
}

// tighter orders margins: what is short before what is not, by how much of what is asked
// is left.
func tighter(x, y checks.Margin) int {
	share := func(m checks.Margin) float64 {
		s := m.Left().Value / max(m.Against.Value, 1e-9)
		if m.Short {
			s = -s
		}
		return s
	}
	switch a, b := share(x), share(y); {
	case x.Short != y.Short && x.Short, x.Short == y.Short && a < b:
		return -1
	case x.Short != y.Short, a > b:
		return 1
	}
	return 0
}

// margins puts behind each value what it leaves of its tightest limit.
func (h *hinter) margins(within source.Span) {
	tightest := map[source.Span]checks.Margin{}
	var order []source.Span
	for _, m := range h.o.Margins {
		at, ok := placed(h.a, m)
		if !ok || at.End < within.Start || at.Start > within.End {
			continue
		}
		known, had := tightest[at]
		if !had {
			order = append(order, at)
		}
		if !had || tighter(m, known) < 0 {
			tightest[at] = m
		}
	}
	for _, at := range order {
		m := tightest[at]
		h.list = append(h.list, Hint{at.End, m.Says(), strings.ReplaceAll(m.Sentence(), "**", "")})
	}
}
