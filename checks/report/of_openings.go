package report

import (
	"cmp"
	"slices"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// openings lists the openings of all walls, what leaks most first.
func openings(b *board.Board, tolerances figures.Tolerances) []Opening {
	list := figures.Openings(b, tolerances)
	lambda, ok := figures.WavelengthIn(b)
	out := []Opening{}
	var holds []figures.Bound
	if ok {
		holds = figures.Holds(list, lambda)
	}
	for i, o := range list {
		x := Opening{Where: o.Stretch.Where(), Length: quantity.InMillimetres(o.Nominal), Worst: Worst{Length: quantity.InMillimetres(o.Worst)}}
		if o.Worst-o.Nominal > board.Tolerance {
			x.Worst.By = o.Because()
		}
		switch g := o.Gap; {
		case g == nil:
		case g.Tab != nil:
			x.OpenedBy, x.Closed = "tab "+g.Name.Text, true
		case g.Connector != nil:
			x.OpenedBy, x.Closed = "connector "+g.Name.Text, true
		default:
			x.Gap, x.Closed = g.Name.Text, true
		}
		if o.Tab != nil {
			x.Tab = o.Tab.Name.Text
		}
		if ok {
			share, worst := o.Nominal/lambda*100, o.Worst/lambda*100
			x.Share, x.Worst.Share, x.Worst.Holds = &share, &worst, &holds[i].Worst
			if o.Nominal > 0 {
				x.Holds = &holds[i].Nominal
			}
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Opening) int {
		if a.Worst.Holds != nil && b.Worst.Holds != nil && *a.Worst.Holds != *b.Worst.Holds {
			return cmp.Compare(*a.Worst.Holds, *b.Worst.Holds)
		}
		return cmp.Compare(b.Worst.Length, a.Worst.Length)
	})
	return out
}
