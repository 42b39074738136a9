package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// tooSmall is the sentence of a value under its minimum: "wrap on top is
// 0.30 mm; standard asks for at least 0.40 mm (limit wrap_land, shops/standard.hem:7)".
func tooSmall(what string, measured quantity.Quantity, l checks.Limit) string {
	a, b := quantity.Pair(measured, l.Quantity)
	return fmt.Sprintf("%s is %s; %s asks for at least %s %s", what, a, l.Who, b, l.From())
}

// tooLarge is the sentence of a value over its maximum.
func tooLarge(what string, measured quantity.Quantity, l checks.Limit) string {
	a, b := quantity.Pair(measured, l.Quantity)
	return fmt.Sprintf("%s is %s; %s allows at most %s %s", what, a, l.Who, b, l.From())
}

// length is a computed length, shown in the unit of a value that its author
// wrote near it (in mm without one). One less than nothing by too little to
// be shown is nothing.
func length(nm float64, like ...board.Value) quantity.Quantity {
	if nm < 0 && nm > -150 {
		nm = 0
	}
	q := quantity.Nanometres(nm)
	for _, v := range like {
		if v.Given() && v.Unit != nil {
			return q.As(v.Unit)
		}
	}
	return q
}

// inHundredths is a computed length to 0.01 mm, where that still says that it is more than is
// allowed.
func inHundredths(nm, most float64) quantity.Quantity {
	if rough := math.Round(nm/1e4) * 1e4; rough > most {
		nm = rough
	}
	return quantity.Nanometres(nm)
}

// lacks tells whether what is measured falls short of what is asked for at least, and
// notes it where the pass is run for its margins.
func lacks(p *checks.Pass, need checks.Limit, at source.Place, measured quantity.Quantity, what func() string) bool {
	return held(p, below(measured.Value, need.Value), func() checks.Margin {
		return checks.Margin{At: at, What: what(), Value: measured, Limit: need, Against: need.Quantity}
	})
}

// exceeds tells whether what is measured is more than is allowed, as lacks does.
func exceeds(p *checks.Pass, most checks.Limit, at source.Place, measured quantity.Quantity, what func() string) bool {
	return held(p, above(measured.Value, most.Value), func() checks.Margin {
		return checks.Margin{At: at, What: what(), Value: measured, Limit: most, Against: most.Quantity, Most: true}
	})
}

// held is short, whether a value misses a limit; where the pass is run for its
// margins it notes how nearly.
func held(p *checks.Pass, short bool, margin func() checks.Margin) bool {
	if p.Weighs() {
		m := margin()
		m.Short = short
		p.Held(m)
	}
	return short
}

func related(f *finding.Finding, at source.Place, format string, args ...any) {
	f.Related = append(f.Related, finding.Related{Place: at, Message: fmt.Sprintf(format, args...)})
}

// relatedLimit adds the place of the fabricator's limit, if it has one.
func relatedLimit(f *finding.Finding, l checks.Limit) {
	if l.At.Anchor != nil {
		related(f, l.At, "%s sets %s", l.Who, l.Parameter.Name)
	}
}

// below tells whether a length or other value falls short of a minimum: by
// more than what computing it may be off.
func below(measured, minimum float64) bool { return measured < minimum-board.Tolerance }

// leastOfNets is how far copper of two nets keeps apart by a limit: whoever asks
// for nothing does not ask for a short.
func leastOfNets(need checks.Limit) float64 { return max(need.Value, 2*board.Tolerance) }

// above tells whether a value exceeds a maximum.
func above(measured, maximum float64) bool { return measured > maximum+board.Tolerance }

// joined joins words for a sentence: a, b and c.
func joined(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// profileNamed is a profile with its kind: the outline, or a cutout and its name.
func profileNamed(name string, cutout bool) string {
	if cutout {
		return "cutout " + name
	}
	return "the " + name
}

// plural is the word for one or for many.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
