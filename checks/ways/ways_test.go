package ways_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/checks/ways"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

const today = "2027-01-15"

func check(a *lang.Analysis) []finding.Located {
	return rules.All().Check(a, checks.Options{Today: today, Later: true}).Findings
}

func text(a *lang.Analysis, s langtest.Section) *ways.Text {
	return ways.Of(a, rules.All(), ways.Options{Check: checks.Options{Today: today}, Read: s.Reader()})
}

// A text of testdata says behind each line which findings begin there, and the ways out
// of each, all of them in their order:
//
//	tab t on south at 5 mm width 2 mm solid // tab_width: way "width 2.5 mm instead of 2 mm, of tab t"
//
// or `none: ` and why, and `fix` with the finding's own. A further finding follows behind a semicolon. With -update they are written
// as they are, to be read.
func TestWays(t *testing.T) {
	var now strings.Builder
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		t.Run(s.Title, func(t *testing.T) {
			a := s.Analyze()
			found, tries := check(a), text(a, s)
			said := map[int][]string{}
			for _, f := range found {
				require.Equal(t, langtest.RootPath, f.File.Path())
				says := f.Rule + ":"
				out := tries.Out(context.Background(), f)
				for _, w := range out.Ways {
					says += fmt.Sprintf(" way %q", w.Says())
				}
				switch {
				case out.Fix != nil:
					says += fmt.Sprintf(" fix %q", out.Fix.Says())
				case len(out.Ways) == 0:
					says += " none: " + out.Why
				}
				line := f.File.LineOf(f.Span.Start)
				said[line] = append(said[line], says)
			}
			for i, line := range strings.Split(strings.TrimSuffix(s.Text(), "\n"), "\n") {
				text, want, _ := strings.Cut(line, " // ")
				if now.WriteString(text); len(said[i]) > 0 {
					now.WriteString(" // " + strings.Join(said[i], "; "))
				}
				now.WriteString("\n")
				if *update {
					continue
				}
				assert.Equal(t, want, strings.Join(said[i], "; "), "line %d: %s", i+1, line)
			}
		})
	}
	if *update {
		require.NoError(t, os.WriteFile("testdata/ways.hem", []byte(now.String()), 0o644))
	}
}

var update = flag.Bool("update", false, "write what is said in testdata anew")

// Each way out of what the broken examples hold, made by itself in a text read anew: the
// finding is gone, and what comes is what was said, no more and no less.
func TestEveryWayHolds(t *testing.T) {
	var stuck []string
	for _, s := range broken(t) {
		a := s.Analyze()
		found, tries := check(a), text(a, s)
		for _, f := range found {
			out := tries.Out(context.Background(), f)
			list := out.Ways
			assert.Equal(t, f.Fix != nil, out.Fix != nil, "%s: %s: its own fix holds", s.Title, f.Message)
			assert.Equal(t, len(list) == 0 && f.Fix == nil, out.Why != "", "%s: %s: a reason is stated where there is no way", s.Title, f.Message)
			if out.Why != "" {
				stuck = append(stuck, s.Title+" "+f.Rule)
			}
			for _, w := range list {
				made := a.Root().Make(w.Edits).Text()
				after := check(lang.Analyze(source.New(langtest.RootPath, made), s.Reader(), nil))
				assert.Less(t, number(after, &f), number(found, &f), "%s: %s: %s", s.Title, f.Message, w.Title)
				assert.Less(t, alike(after, &f), alike(found, &f), "%s: %s: %s", s.Title, f.Message, w.Title)
				var comes []string
				for i := range after {
					if x := &after[i]; number(after, x) > number(found, x) && !slices.Contains(comes, x.Rule) {
						comes = append(comes, x.Rule)
					}
				}
				if slices.Sort(comes); !slices.Equal(w.Brings, comes) && slices.Equal(slices.DeleteFunc(slices.Clone(w.Brings), func(rule string) bool { return !slices.Contains(comes, rule) }), comes) {
					comes = w.Brings // what stands is worse
				}
				assert.Equal(t, w.Brings, comes, "%s: %s: %s", s.Title, f.Message, w.Title)
			}
		}
	}
	if raced {
		return // not all have been looked at
	}
	assert.Equal(t, []string{
		"broken/front_end.hem not_verified",        // what is asked cannot be looked at here
		"broken/ground_strip.hem tab_spacing",      // a tab like either of the two has their faults
		"broken/mast_ring.hem fabricator_outdated", // the shop's own word
		"broken/sensor_neck.hem tab_corner",        // its edge is too short for it
	}, stuck, "findings without a way out")
}

func number(list []finding.Located, like *finding.Located) (n int) {
	for _, f := range list {
		if f.Rule == like.Rule && slices.Equal(rows(f.Items), rows(like.Items)) {
			n++
		}
	}
	return n
}

// alike counts the findings that say just what one does, of the same items.
func alike(list []finding.Located, like *finding.Located) (n int) {
	for _, f := range list {
		if f.Rule == like.Rule && slices.Equal(rows(f.Items), rows(like.Items)) && f.Message == like.Message {
			n++
		}
	}
	return n
}

var member = regexp.MustCompile(`\.\d+$`)

// rows are the names of items, of a row's members that of the row.
func rows(items []string) (list []string) {
	for _, name := range items {
		list = append(list, member.ReplaceAllString(name, ""))
	}
	return list
}

// broken are the broken examples; under the race detector two of them.
func broken(t *testing.T) (list []langtest.Section) {
	for _, s := range langtest.Examples(t, "../..") {
		if strings.HasPrefix(s.Title, "broken/") {
			list = append(list, s)
		}
	}
	require.NotEmpty(t, list)
	if raced {
		return list[:2]
	}
	return list
}

// Whoever gives up gets what there is by then, and soon.
func TestGivenUp(t *testing.T) {
	s := broken(t)[0]
	a := s.Analyze()
	found := check(a)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	assert.Empty(t, text(a, s).Out(ctx, found[0]).Ways)
}

// A way out of one finding, as an editor asks for it.
func BenchmarkOut(b *testing.B) {
	s := langtest.Sections(b, "testdata/*.hem")[0]
	a := s.Analyze()
	found := check(a)
	for b.Loop() {
		text(a, s).Out(context.Background(), found[0])
	}
}

// A text whose closing quote is missing takes the rest of its line with it, the expectations of a
// table too.
func TestQuotesAreClosed(t *testing.T) {
	for text, want := range map[string]string{
		"note \"abc\n":                        "close the quotes: \"abc\"",
		"board b { title \"Test; class 2 }\n": "close the quotes: \"Test\"",
	} {
		a := lang.Analyze(source.New(langtest.RootPath, text), nil, nil)
		found := check(a)
		require.NotEmpty(t, found, text)
		out := ways.Of(a, rules.All(), ways.Options{Check: checks.Options{Today: today}}).Out(context.Background(), found[0])
		require.NotEmpty(t, out.Ways, "%s: %s", text, out.Why)
		assert.Equal(t, want, out.Ways[0].Title)
	}
}
