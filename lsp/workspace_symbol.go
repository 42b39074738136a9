package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"go.lsp.dev/protocol"
)

type workspaceSymbolParams struct {
	workDone
	Query string `json:"query"`
}

// maxSymbols bounds the answer; a person reads the first few.
const maxSymbols = 1000

// workspaceSymbol finds the named statements of every text of the workspace
// whose names hold the letters of the query in order.
func (s *server) workspaceSymbol(params json.RawMessage) (answer, error) {
	var p workspaceSymbolParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	world := s.looked()
	return func(ctx context.Context) (any, error) {
		everyone, err := everyText(ctx, s, world, p.token(), s.symbolsOf,
			func(text *closedText) []protocol.SymbolInformation { return text.symbols })
		if err != nil {
			return nil, err
		}
		var ranked [ranks][]protocol.SymbolInformation
		found := 0
		for _, symbols := range everyone {
			for _, symbol := range symbols {
				if !letters(symbol.Name, p.Query) {
					continue
				}
				found++
				if rank := rankOf(symbol.Name, p.Query); len(ranked[rank]) <= maxSymbols {
					ranked[rank] = append(ranked[rank], symbol)
				}
			}
		}
		list := slices.Concat(ranked[:]...)
		if list == nil {
			list = []protocol.SymbolInformation{}
		}
		if found > maxSymbols {
			// The protocol has no word for a list that is cut short: one entry says so. It
			// begins with what was asked for, so that clients that filter do not hide it.
			more := list[maxSymbols]
			more.Name, more.Kind = fmt.Sprintf("%s… %d more names", p.Query, found-maxSymbols), protocol.SymbolKindNull
			more.ContainerName = "type more letters to find them"
			list = append(list[:maxSymbols:maxSymbols], more)
		}
		return list, nil
	}, nil
}

// The names that are most likely meant come first: the very name, those that begin with what
// is asked for, that hold it, and that hold its letters.
const ranks = 4

func rankOf(name, query string) int {
	name, query = strings.ToLower(name), strings.ToLower(query)
	switch {
	case name == query:
		return 0
	case strings.HasPrefix(name, query):
		return 1
	case strings.Contains(name, query):
		return 2
	}
	return 3
}

// letters tells whether a name holds the letters of a query in order, small
// and capital ones alike.
func letters(name, query string) bool {
	rest := strings.ToLower(name)
	for _, r := range query {
		_, after, found := strings.Cut(rest, string(unicode.ToLower(r)))
		if !found {
			return false
		}
		rest = after
	}
	return true
}
