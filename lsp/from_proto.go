package lsp

import (
	"encoding/json"
	"math"

	"go.lsp.dev/jsonrpc2"

	"hemline/lang/source"
)

// decode reads parameters; what is wrong with them is the client's fault.
func decode(params json.RawMessage, into any) error {
	if err := json.Unmarshal(params, into); err != nil {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "the params cannot be read: %v", err)
	}
	return nil
}

// decodeFor reads the parameters of a request on a document and returns the
// document as it is now.
func (s *server) decodeFor(params json.RawMessage, into interface{ uri() string }) (*document, error) {
	if err := decode(params, into); err != nil {
		return nil, err
	}
	return s.document(into.uri())
}

func (s *server) document(uri string) (*document, error) {
	doc := s.docs.current().byURI[uri]
	if doc == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "no open document: %s", uri)
	}
	return doc, nil
}

// offset is the byte that a client's position means; outside the text it is
// the nearest end, as the protocol asks.
func offset(f *source.File, p position, enc source.Encoding) int {
	return f.Offset(source.Position{Line: count(p.Line), Column: count(p.Character)}, enc)
}

// span is the bytes of a client's range. Ends that are the wrong way round
// are turned, as the protocol's own reference implementation does.
func span(f *source.File, r textRange, enc source.Encoding) source.Span {
	start, end := offset(f, r.Start, enc), offset(f, r.End, enc)
	return source.Span{Start: min(start, end), End: max(start, end)}
}

func count(n float64) int { return int(min(max(n, -1), math.MaxInt32)) }

// encoding picks what columns count: the first that the client offers and the
// language knows, UTF-16 where it says nothing.
func encoding(offered []string) (name string, enc source.Encoding) {
	for _, name := range offered {
		if enc, ok := encodings[name]; ok {
			return name, enc
		}
	}
	return "utf-16", source.UTF16
}

var encodings = map[string]source.Encoding{
	"utf-8":  source.Bytes,
	"utf-16": source.UTF16,
	"utf-32": source.Runes,
}
