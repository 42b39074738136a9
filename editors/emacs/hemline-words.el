;;; hemline-words.el --- The words of the hem language  -*- lexical-binding: t; -*-

;; SPDX-License-Identifier: Apache-2.0

;;; Commentary:

;; Generated from the vocabulary; see DEVELOPERS.md.

;;; Code:

(defconst hemline-words-statements
  '("accept" "board" "castellation" "connector" "cutout" "fabricator"
    "feature" "fence" "gap" "hem" "hole" "let" "note" "outline" "plane"
    "plating" "relief" "stack" "tab" "use")
  "Words that begin a statement.")

(defconst hemline-words-clauses
  '("along" "arc" "around" "at" "because" "body" "bridged" "by" "circle"
    "class" "clearance" "clockwise" "close" "copper" "corner" "current"
    "diameter" "dielectric" "extend" "finish" "finishes" "for" "frequency"
    "from" "hazard" "inset" "land" "layers" "length" "limit" "line" "loss"
    "margin" "maximum" "minimum" "net" "of" "offers" "on" "opens" "over"
    "perforated" "permittivity" "pin" "pitch" "plated" "premetallised"
    "pullback" "reach" "rectangle" "revision" "rise" "shielding" "slot"
    "solid" "source" "span" "start" "thickness" "title" "to" "turned"
    "unplated" "until" "voltage" "width" "with" "wrap")
  "Words that begin a clause or stand inside one.")

(defconst hemline-words-constants
  '("middle" "all" "top" "bottom" "edge_plating" "half_holes"
    "perforated_tabs" "premetallised_tabs" "plated_cutouts")
  "Words with a meaning of their own in the place of a name.")

(defconst hemline-words-functions
  '("min" "max" "abs" "sqrt" "sin" "cos" "tan")
  "Functions of expressions.")

(defconst hemline-words-units
  '("degC" "mohm" "uohm" "GHz" "MHz" "Nmm" "deg" "kHz" "mil" "ohm" "µm"
    "μm" "Hz" "Nm" "cm" "dB" "in" "kV" "mA" "mm" "nm" "oz" "um" "%" "A" "K"
    "N" "V" "W" "g" "m")
  "Units, each read after a number alone.")

(provide 'hemline-words)
;;; hemline-words.el ends here
