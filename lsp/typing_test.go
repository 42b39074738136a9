package lsp

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/source"
)

// What the language keeps from one version to the next must not show: however
// a text came about, its findings are those of the same text just opened.
func TestATextTypedIsATextOpened(t *testing.T) {
	const uri = "file:///nowhere/board.hem"
	for seed := range uint64(5) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			random := rand.New(rand.NewPCG(seed, 2))
			file := source.New("", typedBoard)
			c := start(t, DefaultEngine())
			c.initialize(`{}`)
			c.open(uri, typedBoard)
			for range 40 {
				at := typeSomething(random, file.Len())
				text := typedPieces[random.IntN(len(typedPieces))]
				from, to := file.Position(at.Start, source.UTF16), file.Position(at.End, source.UTF16)
				file = file.Edit(source.Span{Start: file.Offset(from, source.UTF16), End: file.Offset(to, source.UTF16)}, text)
				c.edit(uri, text, from.Line, from.Column, to.Line, to.Column)
				c.published() // so that each version is analysed
			}
			c.edit(uri, "", 0, 0, 0, 0)
			typed := c.published()
			fresh := start(t, DefaultEngine())
			fresh.initialize(`{}`)
			fresh.open(uri, file.Text())
			assert.Equal(t, messages(fresh.published()), messages(typed), "the text:\n%s", file.Text())
		})
	}
}

func messages(p published) (list []string) {
	for _, d := range p.Diagnostics {
		list = append(list, fmt.Sprintf("%v %s: %s %s", d.Range, d.Code, d.Message, d.Related))
	}
	return list
}

func typeSomething(random *rand.Rand, length int) source.Span {
	start := random.IntN(length + 1)
	return source.Span{Start: start, End: min(start+random.IntN(6), length)}
}

var typedPieces = []string{"", "", "", " ", "\n", "5", "mm", "x1", "{", "}", "\"", "// ", "let x1 = 3 mm\n", "long", "µ🛠"}

const typedBoard = `hem 1
board b {
  thickness 1.6 mm
}
let long = 60 mm
let x1 = 6 mm
outline rectangle long by 40 mm
plating wall {
  along south north
  net GND
  copper 25 um
  wrap top 0.6 mm
  wrap bottom 0.6 mm
  extend 0.1 mm
}
gap g1 of wall on south at x1 width 2 mm
gap g2 of wall on north at x1 * 2 width 2 mm
feature f1 on top rectangle 1 mm by 2 mm at (x1, 30 mm) net N1
tab t1 on south at x1 width 3 mm solid
note "µ🛠"
`
