package board

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"hemline/lang/syntax"
)

// Note is a line for the fabrication notes.
type Note struct {
	Item
	Text Name
}

// Topic is what a note may speak of, as alternatives: each is some words, which
// all stand in one sentence of the note, in any order, whole, in either case, in
// the singular or with an s; a hyphen counts as a space. A word after a minus
// must not stand there: the sentence is about something narrower.
type Topic []string

// AboutTabs is the topic of what holds a board in its panel.
var AboutTabs = Topic{"tab -residue -protrusion -stub -removal -remove -removed -length -row"}

// Remark is a sentence of a note, as it is written.
type Remark struct {
	Note *Note
	Text string
	// Leaves tells that the sentence leaves its matter to the shop.
	Leaves bool
}

// Remark finds the first sentence of the notes that speaks of a topic; a
// sentence ends with a semicolon, or a full stop before a space. ok is false
// where none does.
func (b *Board) Remark(on Topic) (r Remark, ok bool) {
	for _, n := range b.Notes() {
		for _, s := range sentences(n.Text.Text) {
			words := wordsOf(s)
			if slices.ContainsFunc(on, func(alternative string) bool { return speaks(words, alternative) }) {
				return Remark{n, s, leaves(s)}, true
			}
		}
	}
	return Remark{}, false
}

var sentenceEnd = regexp.MustCompile(`;\s*|\.\s+`)

func sentences(text string) []string {
	var list []string
	for _, s := range sentenceEnd.Split(text, -1) {
		if s = strings.TrimSuffix(strings.TrimSpace(s), "."); s != "" {
			list = append(list, s)
		}
	}
	return list
}

func wordsOf(text string) map[string]bool {
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		words[w] = true
	}
	return words
}

func speaks(words map[string]bool, alternative string) bool {
	for w := range strings.FieldsSeq(alternative) {
		w, without := strings.CutPrefix(w, "-")
		if (words[w] || words[w+"s"]) == without {
			return false
		}
	}
	return true
}

var (
	shopsWord = regexp.MustCompile(`(?i)\b(left|leave|leaves|up)( \w+){0,3} to (the |our |your )?(shop|fabricator)\b|\b(shop|fabricator) (may |shall |can )?(decides?|chooses?)\b|\b(shop|fabricator)['’]s (choice|decision|word)\b`)
	denied    = regexp.MustCompile(`(?i)\b(not|never|nothing|no|none|neither)\b`)
)

// leaves tells whether a sentence leaves something to the shop. One that also
// says no to something is not taken for it: in doubt the question stays.
func leaves(sentence string) bool {
	return shopsWord.MatchString(sentence) && !denied.MatchString(sentence)
}

func (m *meaning) note(r *syntax.Reading, base Item) *Note { return &Note{base, nameOf(&r.Clause, 0)} }
