;;; indent.el --- Take all indentation out of a text and put it back  -*- lexical-binding: t; -*-
;;; Code:
(load (getenv "HEMLINE_STEPS"))
(find-file (getenv "HEMLINE_FILE"))
(let ((before (buffer-string)))
  (goto-char (point-min))
  (while (re-search-forward "^[ \t]+" nil t) (replace-match ""))
  (say "moved" (if (string= before (buffer-string)) 0 1))
  (indent-region (point-min) (point-max))
  (say "back" (if (string= before (buffer-string)) 1 0))
  (go-to "marking none")
  (comment-region (line-beginning-position) (line-end-position))
  (say "commented" (buffer-substring-no-properties (line-beginning-position) (line-end-position)))
  (uncomment-region (line-beginning-position) (line-end-position))
  (say "uncommented" (if (string= before (buffer-string)) 1 0)))
;;; indent.el ends here
