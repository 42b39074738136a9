;;; hemline-mode.el --- Major mode for the hem language  -*- lexical-binding: t; -*-

;; SPDX-License-Identifier: Apache-2.0
;; Version: 0.1.0
;; Package-Requires: ((emacs "26.1"))
;; Keywords: languages
;; URL: https://example.invalid/hemline

;;; Commentary:

;; Highlighting, indentation and comments for .hem files: text that says which
;; edges of a circuit board are plated, and how.  Eglot and lsp-mode, where
;; they are loaded, learn of the language server.

;;; Code:

(require 'hemline-words)
(require 'seq)

(defgroup hemline nil
  "Edge-plated circuit boards as text."
  :group 'languages)

(defcustom hemline-program "hemline"
  "The hemline program: a name on the path, or a path."
  :type 'string)

(defcustom hemline-indent-offset 2
  "Columns of one step of indentation, as `hemline fmt' has it."
  :type 'integer
  :safe #'integerp)

(defvar hemline-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?/ ". 12" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\r ">" table)
    (modify-syntax-entry ?\" "\"" table)
    (modify-syntax-entry ?\\ "\\" table)
    ;; A dot goes on with a name, whose parts are then no keywords.
    (modify-syntax-entry ?. "_" table)
    (modify-syntax-entry ?_ "_" table)
    (modify-syntax-entry ?% "." table)
    (modify-syntax-entry ?' "." table)
    (modify-syntax-entry ?= "." table)
    (modify-syntax-entry ?+ "." table)
    (modify-syntax-entry ?- "." table)
    (modify-syntax-entry ?* "." table)
    table)
  "Syntax table of `hemline-mode'.")

(defconst hemline--unit
  (concat "\\(?:" (regexp-opt (seq-filter (lambda (unit) (string-match-p "\\`[[:alpha:]]" unit)) hemline-words-units))
          "\\_>\\|" (regexp-opt (seq-remove (lambda (unit) (string-match-p "\\`[[:alpha:]]" unit)) hemline-words-units))
          "\\)")
  "A unit: a word that does not go on, or a sign.")

(defvar hemline-font-lock-keywords
  `((,(concat "\\_<\\([0-9]+\\(?:\\.[0-9]+\\)?\\(?:[eE][-+]?[0-9]+\\)?\\)[ \t]*\\(" hemline--unit "\\)?")
     (1 font-lock-constant-face) (2 font-lock-preprocessor-face nil t))
    (,(regexp-opt hemline-words-statements 'symbols) . font-lock-keyword-face)
    (,(regexp-opt hemline-words-clauses 'symbols) . font-lock-type-face)
    (,(concat (regexp-opt hemline-words-functions 'symbols) "[ \t]*(") 1 font-lock-function-name-face)
    (,(regexp-opt hemline-words-constants 'symbols) . font-lock-builtin-face))
  "What `hemline-mode' highlights.")

(defun hemline--end-open-texts (start end)
  "Between START and END, let a text that is not closed end with its line."
  (goto-char start)
  (while (re-search-forward "\"\\(?:\\\\[\"\\\\]\\|[^\"\n]\\)*\\(\"\\|\n\\)\\|//.*$" end t)
    (when (and (match-beginning 1) (eq (char-after (match-beginning 1)) ?\n))
      (put-text-property (match-beginning 0) (1+ (match-beginning 0)) 'syntax-table (string-to-syntax "|"))
      (put-text-property (match-beginning 1) (match-end 1) 'syntax-table (string-to-syntax "|")))))

(defun hemline-indent-line ()
  "Indent the line by the braces that are open before it."
  (interactive)
  (let* ((state (save-excursion (syntax-ppss (line-beginning-position))))
         (back (save-excursion (back-to-indentation) (if (looking-at-p "[})]") 1 0)))
         (column (* hemline-indent-offset (max 0 (- (car state) back)))))
    (if (nth 3 state)
        'noindent
      (if (<= (current-column) (current-indentation))
          (indent-line-to column)
        (save-excursion (indent-line-to column))))))

;;;###autoload
(define-derived-mode hemline-mode prog-mode "hem"
  "Major mode for edge-plated circuit boards as text."
  (setq-local comment-start "// ")
  (setq-local comment-end "")
  (setq-local comment-start-skip "//+[ \t]*")
  (setq-local syntax-propertize-function #'hemline--end-open-texts)
  (setq-local font-lock-defaults '(hemline-font-lock-keywords))
  (setq-local indent-line-function #'hemline-indent-line)
  (setq-local indent-tabs-mode nil)
  (setq-local electric-indent-chars (append "{}" electric-indent-chars)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.hem\\'" . hemline-mode))

;; The clients are not loaded for this: each is told when it is.
(defvar eglot-server-programs)
(defvar lsp-language-id-configuration)
(declare-function lsp-register-client "ext:lsp-mode")
(declare-function lsp-stdio-connection "ext:lsp-mode")
(declare-function make-lsp-client "ext:lsp-mode")

(defun hemline--command (&rest _)
  "The command that starts the language server."
  (list hemline-program "lsp"))

(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs '(hemline-mode . hemline--command)))

(with-eval-after-load 'lsp-mode
  (add-to-list 'lsp-language-id-configuration '(hemline-mode . "hem"))
  (lsp-register-client
   (make-lsp-client :new-connection (lsp-stdio-connection #'hemline--command)
                    :major-modes '(hemline-mode)
                    :server-id 'hemline)))

(provide 'hemline-mode)
;;; hemline-mode.el ends here
