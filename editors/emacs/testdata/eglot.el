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

(go-to "scar on south")
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
(narrow-the-wrap "0.8" "0.3")
(eglot--signal-textDocument/didChange)
(wait-for "it once more" (lambda () (accept-process-output nil 0.05) (flymake-start) (found)))
(let* ((at (flymake-diagnostic-beg (car (flymake-diagnostics))))
       (actions (eglot-code-actions at (1+ at) "quickfix")))
  (say "actions" (vconcat (mapcar (lambda (a) (plist-get a :title)) actions)))
  ;; The question which one is answered as by Enter: with what is preferred.
  (cl-letf (((symbol-function 'completing-read) (lambda (&rest arguments) (car (last arguments)))))
    (let ((last-nonmenu-event t)) (eglot--read-execute-code-action actions (eglot-current-server)))))
(go-to "wrap top bottom 0.4")
(say "fixed" (buffer-substring-no-properties (point) (line-end-position)))

(go-to "scar on south")
(say "references" (length (xref-backend-references 'eglot (xref-backend-identifier-at-point 'eglot))))
(go-to "connector antenna like")
(forward-char (length "connector antenna "))
(say "signature" (plist-get (aref (plist-get (ask :textDocument/signatureHelp) :signatures) 0) :label))
(set-buffer-modified-p nil)

;; A name in two files is renamed in both.
(find-file "used.hem")
(find-file "uses.hem")
(go-to "wide")
(eglot-rename "breadth")
(say "renamed" (lines-with "breadth" "used.hem" "uses.hem"))
(go-to "outline")
(say "refused" (condition-case problem (progn (eglot-rename "x") "") (error (error-message-string problem))))

;; As the command does, but for the end: it would kill the server at once.
(let* ((server (eglot-current-server)) (process (jsonrpc--process server)))
  (jsonrpc-request server :shutdown nil)
  (jsonrpc-notify server :exit nil)
  (wait-for "the end of the server" (lambda () (not (process-live-p process))))
  (say "code" (process-exit-status process)))
(kill-emacs 0)
;;; eglot.el ends here
