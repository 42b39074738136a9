package sheet

import (
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"hemline/lang/source"
)

// The one family of lettering: DejaVu Sans Condensed, free to embed, with the
// signs that drawings need (⌀ ± µ ²). As parts of its em: the height of its
// capitals, and what its letters take above and below the base line.
const (
	capitals = 0.729
	ascent   = 0.76
	descent  = 0.24
	// Family is the lettering's name.
	Family = "DejaVu Sans Condensed"
)

// Font is the lettering's file, regular or bold.
func Font(bold bool) []byte {
	if bold {
		return dejavusanscondensedbold.TTF
	}
	return dejavusanscondensed.TTF
}

// Em is the size of the lettering, mm, whose capitals have a height.
func Em(height float64) float64 { return height / capitals }

type measure struct {
	plain [0x80]float64 // of the characters of ASCII, em: most of what is lettered

	sync.Mutex
	font *sfnt.Font
	buf  sfnt.Buffer
	adv  map[rune]float64 // of the others, as they come
}

var measures = sync.OnceValue(func() [2]*measure {
	var list [2]*measure
	for i := range list {
		f, err := sfnt.Parse(Font(i == 1))
		if err != nil {
			panic("the lettering that is part of the program cannot be read: " + err.Error())
		}
		m := &measure{font: f, adv: map[rune]float64{}}
		for r := range m.plain {
			m.plain[r] = m.read(rune(r))
		}
		list[i] = m
	}
	return list
})

// advance is how far a character moves on, in em.
func (m *measure) advance(r rune) float64 {
	if 0 <= r && int(r) < len(m.plain) {
		return m.plain[r]
	}
	m.Lock()
	defer m.Unlock()
	a, ok := m.adv[r]
	if !ok {
		a = m.read(r)
		m.adv[r] = a
	}
	return a
}

// read is the advance as the font's file has it.
func (m *measure) read(r rune) float64 {
	const ppem = 1000
	a := 0.6
	if g, err := m.font.GlyphIndex(&m.buf, r); err == nil {
		if w, err := m.font.GlyphAdvance(&m.buf, g, fixed.I(ppem), font.HintingNone); err == nil {
			a = float64(w) / 64 / ppem
		}
	}
	return a
}

// Has tells whether the lettering has a character.
func Has(r rune) bool {
	m := measures()[0]
	m.Lock()
	defer m.Unlock()
	g, err := m.font.GlyphIndex(&m.buf, r)
	return err == nil && g != 0
}

// Width is how long the text is, mm.
func (t Text) Width() float64 {
	m, em := t.measure(), Em(t.Height)
	sum := 0.0
	for _, r := range source.Visible(t.S) {
		sum += m.advance(r) * em
	}
	return sum
}

// Advance is how far a character of the text moves on, mm.
func (t Text) Advance(r rune) float64 { return t.measure().advance(r) * Em(t.Height) }

func (t Text) measure() *measure {
	if t.Bold {
		return measures()[1]
	}
	return measures()[0]
}
