package lang_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// row is a board of a given number of statements: a head, and then blocks of a
// comment, a let, a gap of the plating, two features and a blank line.
func row(statements int) string {
	var b strings.Builder
	b.WriteString(`hem 1
fabricator bench {
  offers edge_plating
  limit tab_spacing maximum 100 m
  limit tab_count minimum 0
  limit plated_share maximum 100 %
}
board bench_board {
  thickness 1.6 mm
}
outline rectangle 16000 mm by 60 mm
plating wall {
  along south north
  net GND
  copper 25 um
  wrap top 0.6 mm
  wrap bottom 0.6 mm
  extend 0.1 mm
}

`)
	for i := range (statements - 5) / 4 {
		fmt.Fprintf(&b, `// note%[1]d of the row
let x%[1]d = %[1]d * 6 mm
gap g%[1]d of wall on south at x%[1]d width 2 mm
feature f%[1]d on top rectangle 1 mm by 2 mm at (x%[1]d, 30 mm) net N%[1]d
feature k%[1]d on bottom circle 1 mm at (x%[1]d + 3 mm, 40 mm) net N%[1]d

`, i)
	}
	return b.String()
}

// A full check of a text that nothing is known of.
func BenchmarkFullCheck(b *testing.B) {
	for _, statements := range []int{100, 1000, 10_000} {
		b.Run(fmt.Sprint(statements), func(b *testing.B) {
			f := source.New(langtest.RootPath, row(statements))
			b.ReportAllocs()
			for b.Loop() {
				rules.All().Check(lang.Analyze(f, nil, nil), checks.Options{})
			}
		})
	}
}

// A keystroke: a character is typed and taken back, each with a whole check.
func BenchmarkKeystroke(b *testing.B) {
	for _, what := range []struct{ name, after, typed string }{
		{"name", " of wall", "x"}, // of the plating that a gap in the middle interrupts: it is then none
		{"let", " * 6", "2"},      // the value that a gap and two features read
		{"comment", " of the row", "x"},
	} {
		for _, statements := range []int{100, 1000, 10_000} {
			b.Run(fmt.Sprintf("%s/%d", what.name, statements), func(b *testing.B) {
				f := source.New(langtest.RootPath, row(statements))
				middle := f.Line(f.Lines() / 2).Start
				at := middle + strings.Index(f.Text()[middle:], what.after) + len(what.after)
				a := lang.Analyze(f, nil, nil)
				o := checks.Options{Session: new(checks.Session)}
				clean := len(rules.All().Check(a, o).Findings)
				b.ReportAllocs()
				for b.Loop() {
					f = f.Edit(source.Span{Start: at, End: at}, what.typed)
					a = lang.Analyze(f, nil, a)
					rules.All().Check(a, o)
					f = f.Edit(source.Span{Start: at, End: at + len(what.typed)}, "")
					a = lang.Analyze(f, nil, a)
					rules.All().Check(a, o)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(2*b.N), "ns/keystroke")
				require.Equal(b, clean, len(rules.All().Check(a, checks.Options{}).Findings))
			})
		}
	}
}
