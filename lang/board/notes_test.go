package board_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
)

func TestWhatANoteSpeaksOfAndLeavesToTheShop(t *testing.T) {
	for _, c := range []struct {
		note, topic   string
		speaks, leave bool
	}{
		{"tabs: left to the shop, on the south edge", "tab", true, true},
		{"Tab places: the shop decides", "tab", true, true},
		{"We leave the TABS to our fabricator.", "tab", true, true},
		{"tab residue up to the fabricator", "residue", true, true},
		{"outline tolerance: 0.1 mm", "outline tolerance", true, false},
		{"tolerance of the out-line: 0.1 mm", "outline tolerance", false, false},
		{"Tolerance of the outline: 0.1 mm", "outline tolerance", true, false},
		{"half-hole tolerance: left to the shop", "half hole tolerance", true, true},
		// a sentence answers for itself alone
		{"tab residue: 0.1 mm; finish left to the shop", "residue", true, false},
		{"Tab residue: 0.1 mm. Finish: left to the shop.", "finish", true, true},
		{"outline: see drawing; tolerance 0.1 mm", "outline tolerance", false, false},
		// nor does one that is about something narrower
		{"tab residue: left to the shop", board.AboutTabs[0], false, false},
		{"tabs: left to the shop", board.AboutTabs[0], true, true},
		// a shop that is named decides nothing by that
		{"tabs: ask the shop", "tab", true, false},
		{"tabs: not left to the shop", "tab", true, false},
		{"table of values left to the shop", "tab", false, false},
	} {
		b := build(t, "note \""+c.note+"\"\n")
		r, ok := b.Remark([]string{c.topic})
		assert.Equal(t, c.speaks, ok, c.note)
		assert.Equal(t, c.leave, r.Leaves, c.note)
	}
}
