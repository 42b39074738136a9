;;; lsp-mode.el --- One user's session with lsp-mode on an example board  -*- lexical-binding: t; -*-
;;; Code:
(load (getenv "HEMLINE_STEPS"))
(require 'lsp-mode)
(require 'flymake)
(setq lsp-auto-guess-root t
      lsp-session-file (expand-file-name "session" (getenv "HOME"))
      lsp-enable-file-watchers nil
      lsp-diagnostics-provider :flymake
      lsp-restart 'ignore
      lsp-modeline-code-actions-enable nil
      lsp-headerline-breadcrumb-enable nil
      lsp-idle-delay 0.01)
(setq lsp--session (make-lsp-session :folders (list (file-name-directory (getenv "HEMLINE_FILE")))))

(defun found ()
  "The findings as lists of code and message."
  (let (list)
    (maphash (lambda (_file diagnostics)
               (dolist (d diagnostics)
                 (push (vector (lsp:diagnostic-code? d) (lsp:diagnostic-message d)) list)))
             (lsp-diagnostics t))
    list))

(find-file (getenv "HEMLINE_FILE"))
(say "mode" (symbol-name major-mode))
(lsp)
(wait-for "the server" (lambda () (eq 'initialized (lsp--workspace-status (car (lsp-workspaces))))))
(narrow-the-wrap "0.8" "0.3")
(wait-for "a wrap that is too narrow" #'found)
(say "narrowed" (found))
(narrow-the-wrap "0.3" "0.8")
(wait-for "it to go" (lambda () (null (found))))
(say "mended" (vconcat (found)))

(go-to "plating wall")
(search-forward "wall")
(backward-char)
(say "hover" (gethash "value" (lsp:hover-contents (lsp-request "textDocument/hover" (lsp--text-document-position-params)))))

(go-to "scar on south")
(let ((place (lsp-request "textDocument/definition" (lsp--text-document-position-params))))
  (say "definition" (xref-item-summary (car (lsp--locations-to-xref-items place)))))

(goto-char (point-max))
(insert "\nplating second {\n  \n}\n")
(search-backward "{")
(forward-char 4)
(let ((capf (lsp-completion-at-point)))
  (say "completion" (mapcar #'substring-no-properties (all-completions "" (nth 2 capf)))))
(delete-region (save-excursion (search-backward "plating second") (1- (point))) (point-max))

(let ((before (buffer-string)))
  (narrow-the-wrap "0.8" "    0.8")
  (say "shifted" (if (string= before (buffer-string)) 0 1))
  (lsp-format-buffer)
  (say "formatted back" (if (string= before (buffer-string)) 1 0)))

(narrow-the-wrap "0.8" "0.3")
(wait-for "it once more" #'found)
(go-to "wrap   top")
(lsp-execute-code-action (seq-find (lambda (a) (equal t (lsp:code-action-is-preferred? a))) (lsp-code-actions-at-point)))
(go-to "wrap top bottom 0.4")
(say "fixed" (buffer-substring-no-properties (point) (line-end-position)))

(go-to "scar on south")
(say "references" (length (lsp-request "textDocument/references"
                                       (append (lsp--text-document-position-params) '(:context (:includeDeclaration t))))))
(go-to "connector antenna like")
(forward-char (length "connector antenna "))
(say "signature" (lsp:signature-information-label
                  (elt (lsp:signature-help-signatures (lsp-request "textDocument/signatureHelp" (lsp--text-document-position-params))) 0)))
(say "folds" (length (lsp--get-folding-ranges)))
(set-buffer-modified-p nil)

;; A name in two files is renamed in both.
(find-file "used.hem")
(lsp)
(find-file "uses.hem")
(lsp)
(go-to "wide")
(lsp-rename "breadth")
(say "renamed" (lines-with "breadth" "used.hem" "uses.hem"))
(go-to "outline")
(say "refused" (condition-case problem (progn (lsp-rename "x") "") (error (error-message-string problem))))

(let ((process (lsp--workspace-proc (car (lsp-workspaces)))))
  ;; As the command does, with its params, but for the end: it would kill the
  ;; server at once.
  (lsp-request "shutdown" (make-hash-table))
  (lsp-notify "exit" nil)
  (wait-for "the end of the server" (lambda () (not (process-live-p process))))
  (say "code" (process-exit-status process)))
(kill-emacs 0)
;;; lsp-mode.el ends here
