package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
)

// Whatever an outline shows has an icon.
func TestEachSymbolHasAnIcon(t *testing.T) {
	for _, k := range board.Kinds() {
		assert.NotZero(t, symbolKinds[k.Symbol], k.Word)
	}
	assert.NotZero(t, symbolKinds[board.SymbolNumber], "limits")
}
