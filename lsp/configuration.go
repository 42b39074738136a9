package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
)

// didChangeConfiguration asks the client for the settings, or takes those that
// it sends along where it cannot be asked.
func (s *server) didChangeConfiguration(params json.RawMessage) error {
	var p struct {
		Settings json.RawMessage `json:"settings"`
	}
	if err := decode(params, &p); err != nil {
		return err
	}
	if s.client.configuration {
		s.askSettings()
		return nil
	}
	s.configure(p.Settings)
	return nil
}

// maxFetches bounds how often the client is asked for its settings before it has
// answered any of it.
const maxFetches = 8

// askSettings asks the client for its settings, or, where it has been asked often enough
// without an answer, has it asked once more after the next one.
func (s *server) askSettings() {
	if s.fetching.Add(1) > maxFetches {
		s.fetching.Add(-1)
		s.missed.Store(true)
		return
	}
	go func() {
		s.fetchSettings()
		s.fetching.Add(-1)
		if s.missed.Swap(false) {
			s.askSettings()
		}
	}()
}

// fetchSettings asks the client for its settings. Not on the read loop.
func (s *server) fetchSettings() {
	defer s.rescue("settings", nil)
	n := s.fetches.Add(1)
	var list []json.RawMessage
	asked := map[string]any{"items": []map[string]string{{"section": section}}}
	if err := s.ask(protocol.MethodWorkspaceConfiguration, asked, &list); err != nil {
		s.log.Printf("the client's settings: %v", err)
		return
	}
	if len(list) == 0 {
		return
	}
	s.settling.Lock()
	defer s.settling.Unlock()
	if n == s.fetches.Load() { // else it has been asked again since
		s.configure(list[0])
	}
}

// initialized comes once the client has read the server's abilities: from here
// on it may be asked.
func (s *server) initialized(json.RawMessage) error {
	go func() {
		defer s.rescue("initialized", nil)
		if registrations := s.client.registrations(); len(registrations) > 0 {
			if err := s.ask(protocol.MethodClientRegisterCapability, map[string]any{"registrations": registrations}, nil); err != nil {
				s.log.Printf("the client watches no files: %v", err)
			} else {
				s.workspace.watched.Store(s.client.watching)
			}
		}
		if s.client.configuration {
			s.askSettings()
		}
	}()
	return nil
}

type registration struct {
	ID      string `json:"id"`
	Method  string `json:"method"`
	Options any    `json:"registerOptions"`
}

// registrations are what the client is to tell of: .hem files that change on
// disk, and the settings.
func (c client) registrations() []registration {
	var list []registration
	if c.watching {
		list = append(list, registration{"hemline-files", protocol.MethodWorkspaceDidChangeWatchedFiles,
			map[string]any{"watchers": []map[string]string{{"globPattern": "**/*.hem"}}}})
	}
	if c.configurationChanges {
		list = append(list, registration{"hemline-settings", protocol.MethodWorkspaceDidChangeConfiguration, map[string]string{"section": section}})
	}
	return list
}

// say shows a person a line.
func (s *server) say(kind protocol.MessageType, text string) {
	_ = s.conn.Notify(context.Background(), protocol.MethodWindowShowMessage, map[string]any{"type": kind, "message": text})
}

// Requests that ask the client to ask again, which the library lacks.
const (
	methodDiagnosticRefresh = "workspace/diagnostic/refresh"
	methodInlayHintRefresh  = "workspace/inlayHint/refresh"
)

// refresh tells a client that asks for things by itself to ask again.
func (s *server) refresh() {
	s.refreshDiagnostics()
	if s.client.inlayHintRefresh {
		s.refreshingHints.do(func() { s.remind(methodInlayHintRefresh) })
	}
	if s.client.codeLensRefresh {
		s.refreshingLenses.do(func() { s.remind(protocol.MethodCodeLensRefresh) })
	}
}

type workspaceFolder struct {
	URI string `json:"uri"`
}

// didChangeWorkspaceFolders follows the client's folders.
func (s *server) didChangeWorkspaceFolders(params json.RawMessage) error {
	var p struct {
		Event struct {
			Added   []workspaceFolder `json:"added"`
			Removed []workspaceFolder `json:"removed"`
		} `json:"event"`
	}
	if err := decode(params, &p); err != nil {
		return err
	}
	s.workspace.change(folderPaths(p.Event.Added), folderPaths(p.Event.Removed))
	s.refresh()
	return nil
}

func folderPaths(folders []workspaceFolder) []string {
	var list []string
	for _, f := range folders {
		if path, ok := pathOf(f.URI); ok {
			list = append(list, path)
		}
	}
	return list
}
