package lsp

import (
	"encoding/json"
	"maps"
	"slices"

	"go.lsp.dev/jsonrpc2"
)

// commands are what a client may ask the server to do, prepared like requests.
// One file each.
var commands = map[string]func(*server, []json.RawMessage) (answer, error){
	findingsCommand: (*server).openFindings,
	fixCommand:      (*server).fixEverywhere,
	pictureCommand:  (*server).openPicture,
	queriesCommand:  (*server).openQueries,
	usersCommand:    (*server).openUsers,
}

type executeCommandParams struct {
	Command   string            `json:"command"`
	Arguments []json.RawMessage `json:"arguments"`
}

func (s *server) executeCommand(params json.RawMessage) (answer, error) {
	var p executeCommandParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	prepare, ok := commands[p.Command]
	if !ok {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "no such command: %s; there are %q", p.Command, commandNames())
	}
	return prepare(s, p.Arguments)
}

// commandNames is a list even where it is empty.
func commandNames() []string {
	names := slices.AppendSeq([]string{}, maps.Keys(commands))
	slices.Sort(names)
	return names
}

// argument decodes the i-th argument of a command.
func argument(list []json.RawMessage, i int, into any) error {
	if i >= len(list) {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "the command has %d arguments; at least %d are expected", len(list), i+1)
	}
	return decode(list[i], into)
}
