package lsp

import (
	"context"
	"encoding/json"
	"strconv"
	"sync"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// tokenTypes are the names of the classes of tokens, in the order in which
// they are numbered: standard ones, so that every editor's colours fit.
var tokenTypes = []string{
	syntax.ClassComment:   "comment",
	syntax.ClassStatement: "keyword",
	syntax.ClassClause:    "property",
	syntax.ClassItem:      "variable",
	syntax.ClassValue:     "parameter",
	syntax.ClassEdge:      "enumMember",
	syntax.ClassNet:       "type",
	syntax.ClassWord:      "enum",
	syntax.ClassRule:      "macro",
	syntax.ClassFunction:  "function",
	syntax.ClassNumber:    "number",
	syntax.ClassUnit:      "modifier",
	syntax.ClassText:      "string",
	syntax.ClassOperator:  "operator",
}

// tokenModifiers has the one modifier there is: the statement gives the name.
var tokenModifiers = []string{"declaration"}

// semanticTokens are the answers to which a client may ask for the difference:
// the last one of each document.
type semanticTokens struct {
	mu    sync.Mutex
	count int
	last  map[string]numberedTokens // by URI
}

type numberedTokens struct {
	id   string
	data []uint32
}

// keep numbers an answer and returns the one before it.
func (t *semanticTokens) keep(uri string, data []uint32) (id string, before numberedTokens) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.last == nil {
		t.last = map[string]numberedTokens{}
	}
	t.count++
	before = t.last[uri]
	t.last[uri] = numberedTokens{strconv.Itoa(t.count), data}
	return t.last[uri].id, before
}

// drop forgets a document that was closed.
func (t *semanticTokens) drop(uri string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.last, uri)
}

func (s *server) semanticTokensFull(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		return doc.answer(protocol.MethodSemanticTokensFull, func() any {
			data := s.tokensOf(doc, source.Span{End: doc.file.Len()})
			id, _ := s.tokensSent.keep(doc.uri, data)
			return encodeTokens(id, data)
		})
	}, nil
}

// encodeTokens writes an answer of many thousand numbers, which takes the
// library's encoder several times as long.
func encodeTokens(id string, data []uint32) json.RawMessage {
	buf := append(make([]byte, 0, 32+3*len(data)), `{"resultId":`...)
	buf = append(strconv.AppendQuote(buf, id), `,"data":[`...)
	for i, n := range data {
		if i > 0 {
			buf = append(buf, ',')
		}
		buf = strconv.AppendUint(buf, uint64(n), 10)
	}
	return append(buf, "]}"...)
}

func (s *server) semanticTokensRange(params json.RawMessage) (answer, error) {
	var p rangeParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		return protocol.SemanticTokens{Data: s.tokensOf(doc, span(doc.file, p.Range, s.client.encoding))}, nil
	}, nil
}

type semanticTokensDeltaParams struct {
	documentParams
	Previous string `json:"previousResultId"`
}

// semanticTokensDelta answers with what has changed since the last answer, or
// with everything where the client speaks of another one.
func (s *server) semanticTokensDelta(params json.RawMessage) (answer, error) {
	var p semanticTokensDeltaParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		data := s.tokensOf(doc, source.Span{End: doc.file.Len()})
		id, before := s.tokensSent.keep(doc.uri, data)
		if before.id == "" || before.id != p.Previous {
			return protocol.SemanticTokens{ResultID: id, Data: data}, nil
		}
		return protocol.SemanticTokensDelta{ResultID: id, Edits: difference(before.data, data)}, nil
	}, nil
}

// difference is the one edit between two lists: what is the same at both ends
// stays.
func difference(before, after []uint32) []protocol.SemanticTokensEdit {
	head, tail := source.Common(before, after)
	if head == len(before) && head == len(after) {
		return []protocol.SemanticTokensEdit{}
	}
	return []protocol.SemanticTokensEdit{{
		Start: uint32(head), DeleteCount: uint32(len(before) - head - tail), Data: after[head : len(after)-tail],
	}}
}

// tokensOf writes the tokens that touch a span as the protocol counts them:
// each from the one before it.
func (s *server) tokensOf(doc *document, within source.Span) []uint32 {
	f, enc := doc.file, s.client.encoding
	data := []uint32{}
	line, lineSpan := 0, f.Line(0)
	lastLine, lastColumn := 0, 0
	at, column := lineSpan.Start, 0 // how far the columns of the line have been counted
	doc.analysis().Document().EachToken(func(t syntax.Classified) {
		start, end := int(t.Start), int(t.End)
		if end < within.Start || start > within.End {
			return
		}
		for line+1 < f.Lines() && start >= f.Line(line+1).Start {
			line++
			at, column = f.Line(line).Start, 0
		}
		column += source.Units(f.Text()[at:start], enc)
		length := source.Units(f.Text()[start:end], enc)
		at = start
		if line != lastLine {
			lastColumn = 0
		}
		modifiers := uint32(0)
		if t.States {
			modifiers = 1
		}
		data = append(data, uint32(line-lastLine), uint32(column-lastColumn), uint32(length), uint32(t.Class), modifiers)
		lastLine, lastColumn = line, column
	})
	return data
}
