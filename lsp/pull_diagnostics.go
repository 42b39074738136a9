package lsp

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Methods and types of pulled diagnostics, which the library lacks.
const (
	methodDiagnostic          = "textDocument/diagnostic"
	methodWorkspaceDiagnostic = "workspace/diagnostic"
)

type diagnosticOptions struct {
	Identifier            string `json:"identifier"`
	InterFileDependencies bool   `json:"interFileDependencies"`
	WorkspaceDiagnostics  bool   `json:"workspaceDiagnostics"`
}

// diagnosticReport is a list, or the word that it is still the one that the
// client knows by its id.
type diagnosticReport struct {
	Kind     string                      `json:"kind"`
	ResultID string                      `json:"resultId"`
	Items    json.RawMessage             `json:"items,omitempty"`
	Related  map[string]diagnosticReport `json:"relatedDocuments,omitempty"`
}

const (
	reportFull      = "full"
	reportUnchanged = "unchanged"
)

type diagnosticParams struct {
	documentParams
	Previous string `json:"previousResultId"`
}

// diagnostic answers with what is found in one text. The findings that lie in
// a used file go along where the client takes them.
func (s *server) diagnostic(params json.RawMessage) (answer, error) {
	var p diagnosticParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	s.pulls()
	world := s.looked()
	return func(context.Context) (any, error) {
		own := s.reportOn(world, p.uri())
		if own == nil {
			return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "no such document: %s", p.uri())
		}
		reports := map[string]*report{}
		for uri, other := range world.byURI {
			reports[uri] = s.reportOf(world, other)
		}
		answer, err := pulled(own.uri, own, aside(world, reports, own.uri), p.Previous)
		if err != nil || !s.client.relatedDocuments {
			return answer, err
		}
		reports[own.uri] = own
		for uri := range own.found {
			if uri == own.uri || world.byURI[uri] != nil {
				continue
			}
			if answer.Related == nil {
				answer.Related = map[string]diagnosticReport{}
			}
			if answer.Related[uri], err = pulled(uri, nil, aside(world, reports, uri), ""); err != nil {
				return nil, err
			}
		}
		return answer, nil
	}, nil
}

// reportOn is the report on the text under a URI, open or not; nil for no text.
func (s *server) reportOn(w *world, uri string) *report {
	if doc := w.byURI[uri]; doc != nil {
		return s.reportOf(w, doc)
	}
	if path, ok := pathOf(uri); ok {
		if text := s.survey(w).closed(path); text != nil {
			return text.report()
		}
	}
	return nil
}

// pulledList is a list as it is sent. Its id comes from what it says, so that it
// outlives every version with the same findings.
type pulledList struct {
	id    string
	items json.RawMessage
}

func encodeList(list []protocol.Diagnostic) (pulledList, error) {
	items, err := json.Marshal(list)
	if err != nil {
		return pulledList{}, err
	}
	hash := fnv.New64a()
	hash.Write(items)
	return pulledList{fmt.Sprintf("%x", hash.Sum64()), items}, nil
}

// pulled is the list of one text, or nothing where the client has it; see listOf.
func pulled(uri string, own *report, others []*report, previous string) (diagnosticReport, error) {
	make := func() (pulledList, error) { return encodeList(listOf(uri, own, others)) }
	if own != nil && len(others) == 0 {
		make = own.list
	}
	list, err := make()
	switch {
	case err != nil:
		return diagnosticReport{}, err
	case list.id == previous:
		return diagnosticReport{Kind: reportUnchanged, ResultID: list.id}, nil
	}
	return diagnosticReport{Kind: reportFull, ResultID: list.id, Items: list.items}, nil
}

type workspaceReport struct {
	URI     string `json:"uri"`
	Version *int32 `json:"version"`
	diagnosticReport
}

type workspaceDiagnosticParams struct {
	workDone
	Previous []struct {
		URI   string `json:"uri"`
		Value string `json:"value"`
	} `json:"previousResultIds"`
}

// workspaceDiagnostic answers with what is found in every text of the
// workspace, open or not.
func (s *server) workspaceDiagnostic(params json.RawMessage) (answer, error) {
	var p workspaceDiagnosticParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	s.pulls()
	world := s.looked()
	return func(ctx context.Context) (any, error) {
		everyone, err := everyText(ctx, s, world, p.token(),
			func(doc *document) *report { return s.reportOf(world, doc) }, (*closedText).report)
		if err != nil {
			return nil, err
		}
		others := map[string][]*report{}
		for _, r := range everyone {
			for uri := range r.found {
				if uri != r.uri {
					others[uri] = append(others[uri], r)
				}
			}
		}
		previous := map[string]string{}
		for _, known := range p.Previous {
			previous[known.URI] = known.Value
		}
		items := make([]workspaceReport, 0, len(everyone))
		for _, own := range everyone {
			beside := others[own.uri]
			slices.SortFunc(beside, func(a, b *report) int { return cmp.Compare(a.uri, b.uri) })
			list, err := pulled(own.uri, own, beside, previous[own.uri])
			if err != nil {
				return nil, err
			}
			var version *int32
			if own.doc != nil {
				version = own.doc.version
			}
			items = append(items, workspaceReport{own.uri, version, list})
		}
		gone, err := takenBack(everyone, others, previous)
		if err != nil {
			return nil, err
		}
		items = append(items, gone...)
		return struct {
			Items []workspaceReport `json:"items"`
		}{items}, nil
	}, nil
}

// takenBack are reports for the texts that a client knows findings of and that are no more,
// deleted, moved, or closed without ever having been saved: empty, unless a text that uses
// them has findings there. A client that spells the path of a text otherwise than the
// server has got its report already; and what it has been told it is not told again.
func takenBack(everyone []*report, others map[string][]*report, previous map[string]string) (items []workspaceReport, err error) {
	there := map[string]bool{}
	for _, r := range everyone {
		there[r.uri] = true
		if path, ok := pathOf(r.uri); ok {
			there[path] = true
		}
	}
	for _, uri := range slices.Sorted(maps.Keys(previous)) {
		if path, ok := pathOf(uri); there[uri] || ok && there[path] {
			continue
		}
		list, err := pulled(uri, nil, others[uri], previous[uri])
		if err != nil {
			return nil, err
		}
		if list.Kind != reportUnchanged {
			items = append(items, workspaceReport{uri, nil, list})
		}
	}
	return items, nil
}
