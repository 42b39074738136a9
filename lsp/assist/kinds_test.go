package assist

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/langtest"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Each kind has a card, or it is said why it has none; none has both.
func TestEachKindHasACard(t *testing.T) {
	for _, k := range board.Kinds() {
		assert.NotEqual(t, cards[k.Word] != nil, cardless[k.Word] != "", "%s: a card, or the reason why there is none", k.Word)
	}
	assert.Len(t, board.Kinds(), len(cards)+len(cardless), "a card of no kind")
}

// A net's card tells of every kind that is of a net.
func TestNetCard(t *testing.T) {
	words, texts := langtest.Whole()
	texts["connector"] = strings.Replace(texts["connector"], "net RF", "net GND", 1)
	texts["feature"] = strings.Replace(texts["feature"], "net V5", "net GND", 1)
	b := langtest.WholeBut("", words, texts, nil).Board()
	assert.Equal(t, "Net `GND`: 1 hole, plating wall, 1 connector, 1 castellation, a plane on ground, 1 feature, 1 fence", netCard(b, "GND"))
	assert.Equal(t, "Net `V9`", netCard(b, "V9"))
}

// named states an item of each kind whose statements give it a name.
const named = `let long = 62 mm
board receiver { frequency 10 GHz; thickness 1.6 mm }
outline rectangle long by 38 mm
cutout window slot 6 mm by 1.5 mm at (20 mm, 10 mm)
hole mount diameter 3.2 mm at (54 mm, 30 mm) plated net GND land 6 mm
plating wall { along south west; net GND; copper 25 um; wrap top 0.8 mm }
gap launch of wall on west at middle width 5 mm for antenna
connector antenna on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm }
relief lid over wall on top reach 0.9 mm
tab t1 on north at 15 mm width 4 mm solid
castellation row on east from 4 mm to 20 mm pitch 2 mm hole 1 mm land 1.8 mm by 1.6 mm net GND
feature c7 on top rectangle 0.8 mm by 0.9 mm at (5 mm, 3 mm) net V5
fence stitch along south inset 1.5 mm pitch 2 mm hole 0.3 mm net GND
part can mass 4 g at (5 mm, 5 mm)
typical scar tab { width 3 mm; solid }
fabricator standard { offers edge_plating }
`

// Hovering over the name that a statement gives tells of the item; and an item
// that a finding may be on is offered after `on` of an acceptance, and found
// from there.
func TestEachKindIsToldOfAndMayBeAccepted(t *testing.T) {
	for _, spec := range syntax.Vocabulary() {
		if len(spec.Args) == 0 || spec.Args[0].Kind != syntax.VNew {
			continue
		}
		at := strings.Index(named, "\n"+spec.Word+" ") + 1 // let is the first
		require.True(t, at > 0 || strings.HasPrefix(named, spec.Word+" "), "the text states a %s", spec.Word)
		at += len(spec.Word) + 1
		name := strings.Fields(named[at:])[0]
		a := lang.Analyze(source.New("a.hem", named), nil, nil)
		require.Empty(t, a.Findings())
		card, ok := Hover(a, at, new(Shown), checks.Options{})
		assert.True(t, ok && strings.Contains(card.Markdown, name), "%s: %q", spec.Word, card.Markdown)

		accepts := board.KindNamed(spec.Word).Accepts
		text := named + "accept wrap_land on " + name + " because \"so\"\n"
		on := strings.LastIndex(text, " on ") + len(" on ")
		a = lang.Analyze(source.New("a.hem", text), nil, nil)
		offered := false
		for _, c := range Complete(a, on, nil, checks.Options{}) {
			offered = offered || c.Label == name && c.Detail == spec.Word
		}
		assert.Equal(t, accepts, offered, "%s is offered", spec.Word)
		m, found := NameAt(a, on)
		assert.Equal(t, accepts, found && m.Kind == spec.Word, "%s is found", spec.Word)
		over, _ := Hover(a, on, new(Shown), checks.Options{})
		assert.Equal(t, accepts, over.Markdown != "" && strings.HasPrefix(card.Markdown, strings.TrimRight(over.Markdown, "\n")), "%s is told of", spec.Word)
	}
}

// A gap's card tells what stays open as drawn and at worst: 5 mm and twice 0.2 mm
// at 1 GHz, er 4.3: 20·log10(144.57/10) and /10.8, by hand.
func TestAGapsCardTellsTheWorst(t *testing.T) {
	const head = "board b { frequency 1 GHz; thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along west east; net GND }\n"
	a, at := analyze(t, head+"gap ‸g of wall on west at 20 mm width 5 mm\n")
	card, _ := Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "stays open: west from 17.50 mm to 22.50 mm, longest dimension 5.00 mm, 0.69 of λ/20, alone at most 23.2 dB; at worst 5.40 mm, 0.75 of λ/20, alone at most 22.5 dB, with the gaps' tolerance of 0.20 mm at each end, which is common practice")
	a, at = analyze(t, head+"connector c on west at 20 mm { body 5 mm }\ngap ‸g of wall on west at 20 mm width 5 mm for c bridged\n")
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "closed as drawn: west from 17.30 mm to 17.50 mm, at worst 1.10 mm")
	a, at = analyze(t, head+"plating ‸more { along north; net GND; copper 25 um }\ntab t on north at 30 mm width 8 mm solid opens more margin 1 mm\n")
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "1 opening, the longest 10.00 mm, at worst 10.40 mm")
	assert.Contains(t, card.Markdown, "alone at most 17.2 dB; at worst 10.40 mm, 1.4 of λ/20 (7.2286 mm), alone at most 16.8 dB")
	// The south is bare, 60 mm of it: 20·log10(72.286/60) = 1.62 dB, by hand.
	assert.Contains(t, card.Markdown, "shielding bound of the wall: at most 1.62 dB, at worst 1.56 dB")
	// 20·log10(144570/10) = 83.2 dB, by hand: past 60 dB a level is no number, here as in the report.
	low := strings.Replace(head, "1 GHz", "1 MHz", 1)
	a, at = analyze(t, low+"gap ‸g of wall on west at 20 mm width 5 mm\n")
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "of λ/20, alone over 60 dB; at worst 5.40 mm")
	a, at = analyze(t, low+"plating ‸more { along north; net GND }\ntab t on north at 30 mm width 8 mm solid opens more margin 1 mm\n")
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "- shielding bound of the wall: over 60 dB\n")
}
