package lsp

import (
	"context"
	"encoding/json"
	"runtime/debug"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// answer works out the result of a request, away from the read loop.
type answer func(ctx context.Context) (any, error)

// requests are prepared on the read loop, where they take the state that they
// answer from. One file each.
var requests = map[string]func(*server, json.RawMessage) (answer, error){
	protocol.MethodTextDocumentHover:             (*server).hover,
	protocol.MethodTextDocumentSignatureHelp:     (*server).signatureHelp,
	protocol.MethodTextDocumentDefinition:        (*server).definition,
	protocol.MethodTextDocumentReferences:        (*server).references,
	protocol.MethodTextDocumentDocumentHighlight: (*server).documentHighlight,
	protocol.MethodTextDocumentPrepareRename:     (*server).prepareRename,
	protocol.MethodTextDocumentRename:            (*server).rename,
	protocol.MethodLinkedEditingRange:            (*server).linkedEditingRange,
	protocol.MethodTextDocumentCompletion:        (*server).completion,
	protocol.MethodTextDocumentCodeAction:        (*server).codeAction,
	protocol.MethodTextDocumentCodeLens:          (*server).codeLens,
	protocol.MethodTextDocumentDocumentLink:      (*server).documentLink,
	protocol.MethodTextDocumentDocumentSymbol:    (*server).documentSymbol,
	protocol.MethodWorkspaceSymbol:               (*server).workspaceSymbol,
	protocol.MethodTextDocumentFormatting:        (*server).formatting,
	protocol.MethodTextDocumentRangeFormatting:   (*server).rangeFormatting,
	protocol.MethodTextDocumentOnTypeFormatting:  (*server).onTypeFormatting,
	protocol.MethodTextDocumentFoldingRange:      (*server).foldingRange,
	protocol.MethodWillRenameFiles:               (*server).willRenameFiles,
	methodSelectionRange:                         (*server).selectionRange,
	protocol.MethodSemanticTokensFull:            (*server).semanticTokensFull,
	protocol.MethodSemanticTokensFullDelta:       (*server).semanticTokensDelta,
	protocol.MethodSemanticTokensRange:           (*server).semanticTokensRange,
	methodInlayHint:                              (*server).inlayHint,
	methodDiagnostic:                             (*server).diagnostic,
	methodWorkspaceDiagnostic:                    (*server).workspaceDiagnostic,
	protocol.MethodWorkspaceExecuteCommand:       (*server).executeCommand,
}

// notifications are carried out on the read loop. One file each.
var notifications = map[string]func(*server, json.RawMessage) error{
	protocol.MethodTextDocumentDidOpen:                (*server).didOpen,
	protocol.MethodTextDocumentDidChange:              (*server).didChange,
	protocol.MethodTextDocumentDidClose:               (*server).didClose,
	protocol.MethodTextDocumentDidSave:                (*server).didSave,
	protocol.MethodWorkspaceDidChangeWatchedFiles:     (*server).didChangeWatchedFiles,
	protocol.MethodInitialized:                        (*server).initialized,
	protocol.MethodWorkspaceDidChangeConfiguration:    (*server).didChangeConfiguration,
	protocol.MethodWorkspaceDidChangeWorkspaceFolders: (*server).didChangeWorkspaceFolders,
	protocol.MethodDidRenameFiles:                     (*server).didRenameFiles,
	protocol.MethodWorkDoneProgressCancel:             (*server).workDoneProgressCancel,
	methodCursor:                                      (*server).cursorMoved,
}

// handle is called by the connection for every request and notification, in
// the order in which they came. It never returns an error, since that would
// end the connection.
func (s *server) handle(ctx context.Context, _ jsonrpc2.Replier, req jsonrpc2.Request) error {
	call, ok := req.(*jsonrpc2.Call)
	if !ok {
		s.notified(req.Method(), req.Params())
		return nil
	}
	pending := s.calls.add(ctx, call.ID(), func(result any, err error) {
		if failed := s.reply(ctx, call.ID(), result, err); failed != nil && ctx.Err() == nil {
			s.log.Printf("%s: %v", req.Method(), failed)
		}
	})
	s.called(pending, req.Method(), req.Params())
	return nil
}

// serverCancelled is the protocol's code for a request that the server gives up.
const serverCancelled jsonrpc2.Code = -32802

// reply writes the answer to a request. Where too much waits already for a client that
// does not read, the answer is dropped and the client told so.
func (s *server) reply(ctx context.Context, id jsonrpc2.ID, result any, err error) error {
	encoded, ok := result.(json.RawMessage)
	if err != nil {
		err = wireError(err)
	} else if !ok {
		response, failed := jsonrpc2.NewResponse(id, result, nil)
		if failed != nil {
			return failed
		}
		encoded = response.Result()
	}
	if err == nil {
		if free := s.stream.wait(len(encoded)); free != nil {
			defer free()
			return s.stream.answer(id, encoded) // the library would read through it once more
		}
		err = jsonrpc2.NewError(serverCancelled, "too many answers wait to be read; ask again")
	}
	response, failed := jsonrpc2.NewResponse(id, nil, err)
	if failed != nil {
		return failed
	}
	_, failed = s.stream.Write(ctx, response)
	return failed
}

func (s *server) called(call *pendingCall, method string, params json.RawMessage) {
	defer s.rescue(method, call)
	switch {
	case method == protocol.MethodInitialize:
		call.finish(s.initialize(params))
		return
	case s.phase == fresh:
		s.clerk.post(func() {
			call.finish(nil, jsonrpc2.NewError(jsonrpc2.ServerNotInitialized, "the server waits for initialize"))
		})
		return
	case s.phase == shutdown:
		s.clerk.post(func() { call.finish(nil, jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the server has been shut down")) })
		return
	case method == protocol.MethodShutdown:
		s.phase = shutdown
		call.finish(nil, nil)
		return
	}
	prepare, ok := requests[method]
	if !ok {
		s.clerk.post(func() { call.finish(nil, jsonrpc2.Errorf(jsonrpc2.MethodNotFound, "no such method: %s", method)) })
		return
	}
	work, err := prepare(s, params)
	if err != nil {
		s.clerk.post(func() { call.finish(nil, err) })
		return
	}
	s.calls.running.Add(1)
	s.calls.room <- struct{}{}
	go func() {
		defer s.calls.running.Done()
		defer func() { <-s.calls.room }()
		defer s.rescue(method, call)
		if call.ctx.Err() != nil {
			return
		}
		result, err := work(call.ctx)
		if call.ctx.Err() == nil { // else it is answered as cancelled
			call.finish(result, err)
		}
	}()
}

func (s *server) notified(method string, params json.RawMessage) {
	defer s.rescue(method, nil)
	switch {
	case method == protocol.MethodExit:
		s.exit()
		return
	case method == protocol.MethodCancelRequest:
		s.cancelRequest(params)
		return
	case s.phase != running || strings.HasPrefix(method, "$/"):
		return
	}
	if do, ok := notifications[method]; ok {
		if err := do(s, params); err != nil {
			s.log.Printf("%s: %v", method, err)
		}
	}
}

// rescue is deferred around everything that a message sets off: a panic costs
// that message and is logged with its stack.
func (s *server) rescue(what string, call *pendingCall) {
	failure := recover()
	if failure == nil {
		return
	}
	s.log.Printf("defect in %s: %v\n%s", what, failure, debug.Stack())
	if call != nil {
		call.finish(nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "hemline has a defect: %v", failure))
	}
}
