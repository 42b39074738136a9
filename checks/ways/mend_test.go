package ways_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// A wrap that is too narrow and the opening over it, which is too small for either: the opening
// fits the wrap as it is mended, and is changed once.
func TestFixesAreMadeInTurn(t *testing.T) {
	a := lang.Analyze(source.New(langtest.RootPath, `board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm corner 1 mm
plane on top bottom net GND pullback 2 mm
plating a { along north; net GND; copper 25 um; wrap top bottom 0.3 mm; extend 0.1 mm }
relief lid over a on top bottom reach 0.3 mm
`), nil, nil)
	done := text(a, langtest.Section{}).Mend(context.Background(), nil)
	var made []string
	for _, m := range done.Made {
		made = append(made, m.Rule+" "+m.Fix.Title)
	}
	assert.Equal(t, []string{
		"wrap_land widen the wrap: 0.381 mm, the least that common practice asks for",
		"relief_short widen the opening: 0.456 mm",
	}, made)
	assert.Contains(t, done.Analysis.Root().Text(), "wrap top bottom 0.381 mm")
	assert.Contains(t, done.Analysis.Root().Text(), "reach 0.456 mm")
	assert.Equal(t, done.Analysis.Root().Text(), a.Root().Make(done.Edits).Text(), "the edits come to the same")
	assert.Equal(t, []source.Edit{{Span: done.Edits[0].Span, Text: "wrap top bottom 0.381 mm"}, {Span: done.Edits[1].Span, Text: "0.456 mm"}}, done.Edits)

	one := text(a, langtest.Section{}).Mend(context.Background(), func(f *finding.Located) bool { return f.Rule == "wrap_land" })
	assert.Len(t, one.Made, 1)
	assert.True(t, slices.ContainsFunc(one.Left, func(f finding.Located) bool { return f.Rule == "relief_short" }), "what was not picked is left")
}

// The broken examples with every sure fix made: none of their findings has one then but those that
// would bring others, nothing is there that was not, and the edits come to the text.
func TestMendedExamples(t *testing.T) {
	made := 0
	for _, s := range broken(t) {
		a := s.Analyze()
		found := check(a)
		done := text(a, s).Mend(context.Background(), nil)
		made += len(done.Made)
		now := lang.Analyze(source.New(langtest.RootPath, a.Root().Make(done.Edits).Text()), s.Reader(), nil)
		assert.Equal(t, done.Analysis.Root().Text(), now.Root().Text(), s.Title)
		after := check(now)
		assert.Equal(t, messages(done.Left), messages(after), s.Title)
		assert.LessOrEqual(t, len(after), len(found)-len(done.Made), s.Title) // one may end two
		for i := range after {
			assert.LessOrEqual(t, number(after, &after[i]), number(found, &after[i]), "%s: %s", s.Title, after[i].Message)
			assert.Nil(t, after[i].Fix, "%s: %s", s.Title, after[i].Message)
		}
	}
	assert.Greater(t, made, 2, "of the texts together")
}

func messages(list []finding.Located) (all []string) {
	for _, f := range list {
		all = append(all, f.Rule+" "+f.Message)
	}
	return all
}

// Whoever gives up gets the text as it is by then.
func TestMendingGivenUp(t *testing.T) {
	s := broken(t)[1]
	a := s.Analyze()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	done := text(a, s).Mend(ctx, nil)
	assert.Equal(t, done.Analysis.Root().Text(), a.Root().Make(done.Edits).Text())
}

// A wrap that was likely meant in millimetres is not widened from micrometres; what keeps a fix from
// being made is said.
func TestDoubtfulValuesAreNotMended(t *testing.T) {
	a := lang.Analyze(source.New(langtest.RootPath, `board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm corner 1 mm
plane on top bottom net GND pullback 2 mm
plating a { along north; net GND; copper 25 um; wrap top bottom 0.6 um; extend 0.1 mm }
`), nil, nil)
	done := text(a, langtest.Section{}).Mend(context.Background(), nil)
	assert.Empty(t, done.Made)
	assert.Empty(t, done.Edits)
	if refused := done.Refused(); assert.Len(t, refused, 1) {
		assert.Equal(t, "wrap_land", refused[0].Rule)
		assert.Equal(t, "another value is likely meant there", refused[0].Why)
	}
}

// A wrap that would then come too near the bare edge, at corners that are not round.
func TestRefusedFixesSayWhatTheyWouldBring(t *testing.T) {
	a := lang.Analyze(source.New(langtest.RootPath, `board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm
plane on top bottom net GND pullback 2 mm
plating a { along north; net GND; copper 25 um; wrap top bottom 0.1 mm; extend 0.1 mm }
`), nil, nil)
	done := text(a, langtest.Section{}).Mend(context.Background(), nil)
	assert.Empty(t, done.Made)
	if refused := done.Refused(); assert.Len(t, refused, 1) {
		assert.Equal(t, "it would bring edge_pullback", refused[0].Why)
	}
}
