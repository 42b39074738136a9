package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/jsonrpc2"
)

// pictureCommand is what clients call the command that shows the live picture.
// Its arguments are a document's URI and, if wanted, the cursor's position.
const pictureCommand = "hemline.picture"

var errShutDown = jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the server has been shut down")

type pictureResult struct {
	URI string `json:"uri"`
}

func (s *server) openPicture(arguments []json.RawMessage) (answer, error) {
	doc, err := s.documentOf(arguments)
	if err != nil {
		return nil, err
	}
	var at *position
	if len(arguments) > 1 {
		if err := argument(arguments, 1, &at); err != nil {
			return nil, err
		}
	}
	return func(context.Context) (any, error) {
		url, err := s.pictures.open(doc)
		if err != nil {
			return nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "the picture cannot be opened: %v", err)
		}
		s.pictures.offer(doc, s.outcome(doc))
		if at != nil {
			s.cursor(doc, offset(doc.file, *at, s.client.encoding))
		}
		go s.showPage(url)
		return pictureResult{url}, nil
	}, nil
}

// showPage lets the client open the page, or tells where it is.
func (s *server) showPage(url string) {
	defer s.rescue("showing the picture's page", nil)
	if s.showDocument(showDocumentParams{URI: url, External: true}) != nil {
		s.tell("The picture of the board is at " + url)
	}
}
