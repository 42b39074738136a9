package lsp

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strconv"

	"go.lsp.dev/jsonrpc2"
)

// fault is why a message was refused before it became one.
type fault struct {
	code    jsonrpc2.Code
	message string
	id      json.RawMessage // as the peer wrote it; nil where it could not be told
}

func (f *fault) Error() string { return f.message }

func (f *fault) appendAnswer(buf []byte) ([]byte, error) {
	buf = append(buf, `{"jsonrpc":"2.0","id":`...)
	if f.id == nil {
		buf = append(buf, "null"...)
	} else {
		buf = append(buf, f.id...)
	}
	return appendError(buf, jsonrpc2.NewError(f.code, f.message))
}

// wireError gives every error a code of the protocol. Without this a plain Go
// error would go out with code 0.
func wireError(err error) *jsonrpc2.Error {
	var wire *jsonrpc2.Error
	if errors.As(err, &wire) {
		return wire
	}
	return jsonrpc2.NewError(jsonrpc2.InternalError, err.Error())
}

// envelope is what every message has, still undecoded. A field that is
// absent is nil; one that is null holds "null".
type envelope struct {
	Version json.RawMessage `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  json.RawMessage `json:"method"`
	Params  json.RawMessage `json:"params"`
	Result  json.RawMessage `json:"result"`
	Error   json.RawMessage `json:"error"`
}

// decodeMessage turns a body into a message, or says why it is none. Both are
// nil for an answer to nothing we asked, which is dropped: to answer it with
// an error could start two peers answering each other for ever.
//
// The standard library decodes the envelope since it checks the whole body
// first and bounds its nesting; the library's own decoder does neither.
func decodeMessage(body []byte) (jsonrpc2.Message, *fault) {
	var env envelope
	err, syntax := json.Unmarshal(body, &env), (*json.SyntaxError)(nil)
	switch first := firstByte(body); {
	case errors.As(err, &syntax):
		return nil, &fault{code: jsonrpc2.ParseError, message: "the message is not JSON"}
	case first == '[':
		return nil, &fault{code: jsonrpc2.InvalidRequest, message: "batches of messages are not part of the protocol"}
	case err != nil || first != '{':
		return nil, &fault{code: jsonrpc2.InvalidRequest, message: "the message is no object"}
	}
	id, known := decodeID(env.ID)
	if env.Method == nil {
		return decodeResponse(&env, id, known)
	}
	refuse := func(why string) (jsonrpc2.Message, *fault) {
		f := &fault{code: jsonrpc2.InvalidRequest, message: why}
		if known || string(env.ID) == `""` {
			f.id = env.ID
		}
		return nil, f
	}
	var version, method string
	switch {
	case json.Unmarshal(env.Version, &version) != nil || version != jsonrpc2.Version:
		return refuse(`the message lacks "jsonrpc":"2.0"`)
	case json.Unmarshal(env.Method, &method) != nil || method == "":
		return refuse("the method is no name")
	case env.ID != nil && !known:
		return refuse("the id is neither a whole number of 32 bits nor a text that is not empty")
	}
	if string(env.Params) == "null" {
		env.Params = nil
	}
	if first := firstByte(env.Params); env.Params != nil && first != '{' && first != '[' {
		return refuse("the params are neither an object nor a list")
	}
	return newRequest(id, known, method, env.Params)
}

func newRequest(id jsonrpc2.ID, call bool, method string, params json.RawMessage) (jsonrpc2.Message, *fault) {
	var (
		msg jsonrpc2.Message
		err error
	)
	if call {
		msg, err = jsonrpc2.NewCall(id, method, params)
	} else {
		msg, err = jsonrpc2.NewNotification(method, params)
	}
	if err != nil {
		return nil, &fault{code: jsonrpc2.InvalidRequest, message: err.Error()}
	}
	return msg, nil
}

func decodeResponse(env *envelope, id jsonrpc2.ID, known bool) (jsonrpc2.Message, *fault) {
	if env.Result == nil && env.Error == nil {
		f := &fault{code: jsonrpc2.InvalidRequest, message: "the message has no method"}
		if known {
			f.id = env.ID
		}
		return nil, f
	}
	if !known {
		return nil, nil
	}
	var failure error
	if env.Error != nil {
		wire := new(jsonrpc2.Error)
		if json.Unmarshal(env.Error, wire) != nil {
			wire = jsonrpc2.NewError(jsonrpc2.UnknownError, "the peer answered with an error that cannot be read")
		}
		failure = wire
	}
	msg, err := jsonrpc2.NewResponse(id, env.Result, failure)
	if err != nil {
		return nil, nil
	}
	return msg, nil
}

// decodeID reads a request id: a whole number of 32 bits or a text. The empty
// text is refused since the library cannot tell it from the number 0.
func decodeID(raw json.RawMessage) (jsonrpc2.ID, bool) {
	switch first := firstByte(raw); {
	case first == '"':
		var name string
		err := json.Unmarshal(raw, &name)
		return jsonrpc2.NewStringID(name), err == nil && name != ""
	case first == '-' || first >= '0' && first <= '9':
		n, err := strconv.ParseInt(string(raw), 10, 64)
		if err != nil || n < math.MinInt32 || n > math.MaxInt32 {
			return jsonrpc2.ID{}, false
		}
		return jsonrpc2.NewNumberID(int32(n)), true
	}
	return jsonrpc2.ID{}, false
}

func firstByte(raw []byte) byte {
	raw = bytes.TrimLeft(raw, " \t\r\n")
	if len(raw) == 0 {
		return 0
	}
	return raw[0]
}
