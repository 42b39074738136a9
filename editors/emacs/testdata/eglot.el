;;; eglot.el --- One user's session with Eglot on an example board  -*- lexical-binding: t; -*-
;;; Code:
(load (getenv "HEMLINE_STEPS"))
(require 'eglot)
(require 'flymake)
(setq eglot-sync-connect 10 eglot-autoshutdown nil eglot-confirm-server-initiated-edits nil)

(defun found ()
  "The findings as lists of text at the place, type and message."
  (mapcar (lambda (d) (vector (buffer-substring-no-properties (flymake-diagnostic-beg d) (flymake-diagnostic-end d))
                            (symbol-name (flymake-diagnostic-type d)) (flymake-diagnostic-text d)))
          (flymake-diagnostics)))

(defun ask (method &rest more)
  "The answer to METHOD at point, with MORE params."
  (eglot--signal-textDocument/didChange)
  (jsonrpc-request (eglot-current-server) method (append (eglot--TextDocumentPositionParams) more)))

(find-file (getenv "HEMLINE_FILE"))
(say "mode" (symbol-name major-mode))
;; In a batch the command asks nothing, so it cannot be called as a user does.
(apply #'eglot--connect (eglot--guess-contact))
(say "managed" (and (eglot-managed-p) t))
(flymake-mode 1)

(narrow-the-wrap "0.8" "0.3")
(eglot--signal-textDocument/didChange)
(wait-for "a wrap that is too narrow" (lambda () (accept-process-output nil 0.05) (flymake-start) (found)))
(say "narrowed" (found))
(narrow-the-wrap "0.3" "0.8")
(eglot--signal-textDocument/didChange)
(wait-for "it to go" (lambda () (accept-process-output nil 0.05) (flymake-start) (null (found))))
(say "mended" (vconcat (found)))

(go-to "plating wall")
(search-forward "wall")
(backward-char)
(say "hover" (plist-get (plist-get (ask :textDocument/hover) :contents) :value))

(go-to "launch for antenna")
(let ((place (car (xref-backend-definitions 'eglot (xref-backend-identifier-at-point 'eglot)))))
  (say "definition" (xref-item-summary place)))

(goto-char (point-max))
(insert "\nplating second {\n  \n}\n")
(search-backward "{")
(forward-char 4)
(eglot--signal-textDocument/didChange)
(let* ((capf (eglot-completion-at-point))
       (words (all-completions "" (nth 2 capf))))
  (say "completion" (mapcar #'substring-no-properties words)))
(delete-region (save-excursion (search-backward "plating second") (1- (point))) (point-max))

(let ((before (buffer-string)))
  (narrow-the-wrap "0.8" "    0.8")
  (say "shifted" (if (string= before (buffer-string)) 0 1))
  (eglot-format-buffer)
  (say "formatted back" (if (string= before (buffer-string)) 1 0)))

(say "symbols" (format "%S" (imenu--make-index-alist t)))
(set-buffer-modified-p nil)
;; As the command does, but for the end: it would kill the server at once.
(let* ((server (eglot-current-server)) (process (jsonrpc--process server)))
  (jsonrpc-request server :shutdown nil)
  (jsonrpc-notify server :exit nil)
  (wait-for "the end of the server" (lambda () (not (process-live-p process))))
  (say "code" (process-exit-status process)))
(kill-emacs 0)
;;; eglot.el ends here
