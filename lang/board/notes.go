package board

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

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
	for _, n := range b.Notes {
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

// ClassCopper is what a board's class asks of plated copper, nm: on average,
// and at its thinnest spot; ok is false where the board states no class.
//
// IPC-6012, from memory and as a fabricator cites it: 20 and 18 µm in classes 1
// and 2, 25 and 20 µm in class 3.
func (b *Board) ClassCopper() (average, thinnest float64, ok bool) {
	if b.Info == nil || !b.Info.Class.Given() {
		return 0, 0, false
	}
	if b.Info.Class.Value == 3 {
		return 25e3, 20e3, true
	}
	return 20e3, 18e3, true
}

// Layers lists the copper layers, top first: the stack's, or the two faces'
// where there is none.
func (b *Board) Layers() []string {
	if names := b.CopperLayers(); len(names) > 0 {
		return names
	}
	return []string{Top.String(), Bottom.String()}
}

// Joined lists the copper layers that a plating joins, top first.
func (b *Board) Joined(p *Plating) []string {
	var list []string
	for _, l := range b.Layers() {
		if b.Joins(p, l) {
			list = append(list, l)
		}
	}
	return list
}

// Edges names the edges that a stretch runs on, in its order.
func (s Stretch) Edges() []string {
	var list []string
	l := s.Profile.Path.Perimeter()
	for turn := 0.0; turn <= 1; turn++ {
		for _, e := range s.Profile.Edges {
			from, to := e.From+turn*l, e.To+turn*l
			if from < s.To-Tolerance && s.From+Tolerance < to && (len(list) == 0 || list[len(list)-1] != e.Name) {
				list = append(list, e.Name)
			}
		}
	}
	return list
}

// TabsIn lists the tabs that stand at least in part in a stretch.
func (b *Board) TabsIn(s Stretch) []*Tab {
	var list []*Tab
	for _, t := range b.Tabs {
		if t.Edge != nil && t.Edge.Profile == s.Profile && s.meets(t.Edge, t.From(), t.To()) {
			list = append(list, t)
		}
	}
	return list
}

// GapsIn lists the gaps that lie at least in part in a stretch.
func (b *Board) GapsIn(s Stretch) []*Gap {
	var list []*Gap
	for _, g := range b.Gaps {
		if g.Edge != nil && g.Edge.Profile == s.Profile && s.meets(g.Edge, g.From, g.To) {
			list = append(list, g)
		}
	}
	return list
}

// CastellationsIn lists the rows of half holes with a hole in a stretch.
func (b *Board) CastellationsIn(s Stretch) []*Castellation {
	var list []*Castellation
	for _, c := range b.Castellations {
		if c.Edge == nil || c.Edge.Profile != s.Profile {
			continue
		}
		half := c.Hole.Value / 2
		if slices.ContainsFunc(c.Centres, func(at float64) bool { return s.meets(c.Edge, at-half, at+half) }) {
			list = append(list, c)
		}
	}
	return list
}

// meets tells whether a stretch shares some length with one of an edge.
func (s Stretch) meets(e *Edge, from, to float64) bool {
	l := s.Profile.Path.Perimeter()
	from, to = e.Range(from, to)
	for _, shift := range [...]float64{-l, 0, l} {
		if min(s.To, to+shift)-max(s.From, from+shift) > Tolerance {
			return true
		}
	}
	return false
}
