;;; steps.el --- What the scripts share  -*- lexical-binding: t; -*-
;;; Commentary:
;; Each prints what the editor knows at each step, a line each, as NAME TAB
;; JSON.  An error ends the editor with a code that is not 0.
;;; Code:
(require 'json)
(require 'package)
(package-initialize)
(require 'hemline-mode)

(defun say (name value)
  "Print VALUE as JSON behind NAME."
  (let ((coding-system-for-write 'utf-8))
    (princ (format "%s\t%s\n" name (json-encode value)))))

(defun wait-for (what ready)
  "Wait until READY returns non-nil; WHAT says what for."
  (let ((end (+ (float-time) 10)) done)
    (while (not (setq done (funcall ready)))
      (when (> (float-time) end) (error "Waited in vain for %s" what))
      (accept-process-output nil 0.02))
    done))

(defun go-to (text)
  "Go to the first place of TEXT."
  (goto-char (point-min))
  (search-forward text)
  (goto-char (match-beginning 0)))

(defun narrow-the-wrap (from to)
  "Replace FROM by TO in the line of the first wrap."
  (goto-char (point-min))
  (re-search-forward "wrap *top ")
  (search-forward from (line-end-position))
  (replace-match to))

(defun lines-with (text &rest files)
  "The first line with TEXT of each of the open FILES, which need no saving."
  (vconcat (mapcar (lambda (name)
                     (with-current-buffer (get-file-buffer name)
                       (set-buffer-modified-p nil)
                       (go-to text)
                       (buffer-substring-no-properties (line-beginning-position) (line-end-position))))
                   files)))
;;; steps.el ends here
