package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"hash/fnv"

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
	world := s.docs.current()
	return func(context.Context) (any, error) {
		doc := s.openOrClosed(world, p.uri())
		if doc == nil {
			return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "no such document: %s", p.uri())
		}
		reports := map[string]*report{doc.uri: s.reportOf(world, doc)}
		for uri, other := range world.byURI {
			reports[uri] = s.reportOf(world, other)
		}
		answer, err := s.pulled(world, reports, doc.uri, p.Previous)
		if err != nil || !s.client.relatedDocuments {
			return answer, err
		}
		for uri := range reports[doc.uri].found {
			if uri == doc.uri || world.byURI[uri] != nil {
				continue
			}
			if answer.Related == nil {
				answer.Related = map[string]diagnosticReport{}
			}
			if answer.Related[uri], err = s.pulled(world, reports, uri, ""); err != nil {
				return nil, err
			}
		}
		return answer, nil
	}, nil
}

func (s *server) openOrClosed(w *world, uri string) *document {
	if doc := w.byURI[uri]; doc != nil {
		return doc
	}
	if path, ok := pathOf(uri); ok {
		return s.closed(w, path)
	}
	return nil
}

// pulled is the list of one text, or nothing where the client has it. Its id
// comes from what it says, so that it outlives every version with the same
// findings.
func (s *server) pulled(w *world, reports map[string]*report, uri, previous string) (diagnosticReport, error) {
	items, err := json.Marshal(s.listOf(w, reports, uri))
	if err != nil {
		return diagnosticReport{}, err
	}
	hash := fnv.New64a()
	hash.Write(items)
	id := fmt.Sprintf("%x", hash.Sum64())
	if id == previous {
		return diagnosticReport{Kind: reportUnchanged, ResultID: id}, nil
	}
	return diagnosticReport{Kind: reportFull, ResultID: id, Items: items}, nil
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
	world := s.docs.current()
	return func(ctx context.Context) (any, error) {
		everyone, err := s.everything(ctx, world, p.token())
		if err != nil {
			return nil, err
		}
		reports := map[string]*report{}
		for _, doc := range everyone {
			if ctx.Err() != nil {
				return nil, protocol.ErrRequestCancelled
			}
			reports[doc.uri] = s.reportOf(world, doc)
		}
		previous := map[string]string{}
		for _, known := range p.Previous {
			previous[known.URI] = known.Value
		}
		items := []workspaceReport{}
		for _, doc := range everyone {
			r, err := s.pulled(world, reports, doc.uri, previous[doc.uri])
			if err != nil {
				return nil, err
			}
			items = append(items, workspaceReport{doc.uri, doc.version, r})
		}
		return struct {
			Items []workspaceReport `json:"items"`
		}{items}, nil
	}, nil
}
