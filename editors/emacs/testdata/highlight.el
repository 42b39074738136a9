;;; highlight.el --- The face at each place of HEMLINE_PLACES  -*- lexical-binding: t; -*-
;;; Code:
(load (getenv "HEMLINE_STEPS"))
(find-file (getenv "HEMLINE_FILE"))
(font-lock-ensure)
(say "faces"
     (mapcar (lambda (at)
               (goto-char (point-min))
               (forward-line (aref at 0))
               (let ((face (get-text-property (+ (point) (aref at 1)) 'face)))
                 (if face (symbol-name (if (consp face) (car face) face)) "")))
             (json-read-file (getenv "HEMLINE_PLACES"))))
;;; highlight.el ends here
