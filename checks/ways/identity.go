package ways

import (
	"regexp"
	"strconv"
	"strings"

	"hemline/lang/finding"
)

// key tells findings apart by rule and items: what a change brings or worsens goes by it. An item
// that a change makes a row of is then its first member.
func (t *Text) key(f *finding.Finding) string {
	k := f.Rule
	for _, name := range f.Items {
		k += " " + t.asBefore(name)
	}
	if f.Category == finding.Language {
		k += " " + f.Message // it is on no item
	}
	return k
}

// asBefore is the name that an item of a changed text has in the text itself.
func (t *Text) asBefore(name string) string {
	if one, first := strings.CutSuffix(name, ".1"); first && t.names[one] && !t.names[name] {
		return one
	}
	return name
}

// numbers are those in a finding's sentence: what is left tells of what it speaks.
var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// subject is what tells a finding from others of its rule on the same items: its sentence without
// the numbers in it.
func subject(f *finding.Finding) string { return numbers.ReplaceAllString(f.Message, "#") }

// touching are the words of a finding's sentence in place of a measure of nothing.
var touching = regexp.MustCompile(`(?: meets? | overlaps? ).* (asks for at least) `)

// measured is what a finding's sentence says that is, and whether it should be more or less.
var measured = regexp.MustCompile(`(?:is|are) (-?[0-9.]+) ?(\S*?)(?: apart[^;]*)?;.* (asks for at least|allows at most) `)

// worstOf are, by the keys of findings, how far those that say a measure are off at worst: what
// is measured, under 0 where it should be less; by its unit too.
func (t *Text) worstOf(list []finding.Located) map[string]float64 {
	n := map[string]float64{}
	for i := range list {
		k := t.key(&list[i].Finding)
		v, unit, ok := measure(list[i].Message)
		if !ok {
			continue
		}
		if w, known := n[k+unitMark+unit]; !known || v < w {
			n[k+unitMark+unit] = v
		}
	}
	return n
}

// measure is what a sentence says that is, under 0 where it should be less; ok is false where it
// measures nothing.
func measure(message string) (v float64, unit string, ok bool) {
	if touching.MatchString(message) {
		return 0, "", true
	}
	m := measured.FindStringSubmatch(message)
	if m == nil {
		return 0, "", false
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if m[3] == "allows at most" {
		v = -v
	}
	return v, m[2], err == nil
}

func (t *Text) counted(list []finding.Located) map[string]int {
	n := map[string]int{}
	for i := range list {
		n[t.key(&list[i].Finding)]++
	}
	return n
}

// unitMark stands between a finding's key and the unit of what it measures.
const unitMark = " \x00"
