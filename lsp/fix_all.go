package lsp

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"hemline/checks/ways"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

// fixCommand is what clients call the command that makes the sure fixes of one rule's
// findings in every text of the workspace. Its argument is the rule.
const fixCommand = "hemline.fixEverywhere"

// sure tells whether a finding's fix is surely right.
func sure(f *finding.Located) bool { return f.Fix != nil && !f.Fix.Guess }

// fixAll are the edits of all findings of a document that are surely right, made one after
// another; none where there are none.
func (s *server) fixAll(ctx context.Context, doc *document, text func() *ways.Text) []protocol.CodeAction {
	if s.docs.engine.Ways == nil || countSure(doc, "") == 0 {
		return nil
	}
	done := text().Mend(ctx, nil)
	if len(done.Edits) == 0 {
		return nil
	}
	return []protocol.CodeAction{{Title: "fix all that is sure", Kind: sourceFixAll, Edit: s.workspaceEdit(doc, done.Edits)}}
}

// kind is a rule that has a sure fix where actions are asked for, and what it found there.
type kind struct {
	rule  string
	about []protocol.Diagnostic
}

// fixesOfKinds are quick fixes for all findings of some rules at once: in the document, where
// it has more than one, and in the workspace.
func (s *server) fixesOfKinds(ctx context.Context, doc *document, text func() *ways.Text, kinds []kind) (list []protocol.CodeAction) {
	if s.docs.engine.Ways == nil {
		return nil
	}
	for _, k := range kinds {
		rule := k.rule
		if n := countSure(doc, rule); n > 1 {
			done := text().Mend(ctx, ofRule(rule))
			if made := len(done.Made); made > 1 {
				title := fmt.Sprintf("fix all %d of %s in this file", made, rule)
				if made < n {
					title = fmt.Sprintf("fix %d of the %d of %s in this file", made, n, rule)
				}
				list = append(list, protocol.CodeAction{Title: title, Kind: protocol.QuickFix, Diagnostics: k.about, Edit: s.workspaceEdit(doc, done.Edits)})
			}
		}
		if s.client.appliesEdits && s.workspace.first() != "" {
			list = append(list, protocol.CodeAction{Title: "fix all of " + rule + " in the workspace", Kind: protocol.QuickFix, Diagnostics: k.about,
				Command: &protocol.Command{Title: "fix all of " + rule, Command: fixCommand, Arguments: []any{rule}}})
		}
	}
	return list
}

// countSure is how many findings of a rule, "" for any, a document has whose fix is sure.
func countSure(doc *document, rule string) (n int) {
	for _, f := range doc.findings() {
		if f.File == doc.file && (rule == "" || f.Rule == rule) && sure(&f) {
			n++
		}
	}
	return n
}

func ofRule(rule string) func(*finding.Located) bool {
	return func(f *finding.Located) bool { return f.Rule == rule }
}

type applyEditParams struct {
	Label string        `json:"label"`
	Edit  workspaceEdit `json:"edit"`
}

// fixEverywhere hands the client the fixes of one rule in every text of the workspace, and
// says what they come to.
func (s *server) fixEverywhere(arguments []json.RawMessage) (answer, error) {
	var rule string
	if err := argument(arguments, 0, &rule); err != nil {
		return nil, err
	}
	if s.docs.engine.Ways == nil {
		return nil, jsonrpc2.Errorf(requestFailed, "nothing is fixed here")
	}
	if !s.client.appliesEdits {
		return nil, jsonrpc2.Errorf(requestFailed, "%s: nothing was fixed, since the editor takes no edits from the server (workspace/applyEdit)", rule)
	}
	world := s.looked()
	return func(ctx context.Context) (any, error) {
		withSure := func(doc *document) *document {
			if doc == nil || countSure(doc, rule) == 0 {
				return nil
			}
			return doc
		}
		everyone, err := everyText(ctx, s, world, nil, withSure, func(text *closedText) *document { return withSure(text.document()) })
		if err != nil {
			return nil, err
		}
		var all []textChange
		made := 0
		for _, doc := range everyone {
			if ctx.Err() != nil {
				return nil, protocol.ErrRequestCancelled
			}
			if doc == nil {
				continue
			}
			done := s.tries(world, doc)().Mend(ctx, ofRule(rule))
			if len(done.Edits) > 0 {
				made += len(done.Made)
				all = append(all, textChange{doc.file, doc.uri, done.Edits})
			}
		}
		said := fmt.Sprintf("%s: nothing to fix that is sure", rule)
		if made > 0 {
			label := fmt.Sprintf("fix all of %s", rule)
			var result struct {
				Applied bool   `json:"applied"`
				Reason  string `json:"failureReason"`
			}
			if err := s.ask(protocol.MethodWorkspaceApplyEdit, applyEditParams{label, s.edit(world, label, all)}, &result); err != nil || !result.Applied {
				return nil, jsonrpc2.Errorf(requestFailed, "%s: the editor did not make the edits: %s", rule, result.Reason)
			}
			said = fmt.Sprintf("%s: %d fixed in %s", rule, made, wording.Plural(len(all), "file"))
		}
		_ = s.conn.Notify(context.Background(), protocol.MethodWindowShowMessage, protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: said})
		return nil, nil
	}, nil
}
