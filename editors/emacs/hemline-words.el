;;; hemline-words.el --- The words of the hem language  -*- lexical-binding: t; -*-

;; SPDX-License-Identifier: Apache-2.0

;;; Commentary:

;; Generated from the vocabulary; see DEVELOPERS.md.

;;; Code:

(defconst hemline-words-statements
  '("accept" "board" "castellation" "connector" "criteria" "cutout"
    "delivery" "fabricator" "feature" "fence" "gap" "hem" "hole" "leave"
    "let" "marking" "note" "outline" "part" "plane" "plating" "relief"
    "stack" "tab" "tolerance" "typical" "use")
  "Words that begin a statement.")

(defconst hemline-words-clauses
  '("added" "adhesion" "along" "approver" "arc" "around" "at" "author" "base"
    "because" "blisters" "body" "bow" "bridged" "burrs" "by" "checked"
    "circle" "class" "clearance" "clockwise" "close" "continuity" "copper"
    "corner" "coupon" "current" "cutouts" "date" "diameter" "dielectric"
    "electrical_test" "except" "extend" "finish" "finishes" "for" "frequency"
    "from" "gaps" "hazard" "holes" "impedance" "inset" "land" "layers"
    "least" "legend" "legs" "length" "like" "limit" "line" "loss" "margin"
    "mask" "mass" "material" "maximum" "microsection" "minimum" "net" "no"
    "number" "of" "offers" "on" "opens" "over" "overhang" "owner" "panel"
    "perforated" "permittivity" "pin" "pitch" "plated" "position"
    "premetallised" "pullback" "reach" "rectangle" "removal" "revision"
    "rise" "sample" "shielding" "single" "slot" "solid" "source" "spacing"
    "span" "start" "status" "thickness" "title" "to" "turned" "unplated"
    "until" "version" "voids" "voltage" "width" "with" "within" "wrap")
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
