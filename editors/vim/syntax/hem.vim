" Generated from the vocabulary; see DEVELOPERS.md.
if exists('b:current_syntax')
  finish
endif

" A dot goes on with a name, whose parts are then no keywords.
syntax iskeyword @,48-57,_,.,192-255

syntax keyword hemStatement accept board castellation connector criteria cutout delivery fabricator feature fence gap hem hole leave let marking note outline part plane plating relief stack tab tolerance typical use
syntax keyword hemClause added adhesion along approver arc around at author base because blisters body bow bridged burrs by checked circle class clearance clockwise close continuity copper corner coupon current cutouts date diameter dielectric electrical_test except extend finish finishes for frequency from gaps hazard holes impedance inset land layers least legend legs length like limit line loss margin mask mass material maximum microsection minimum net no number of offers on opens over overhang owner panel perforated permittivity pin pitch plated position premetallised pullback reach rectangle removal revision rise sample shielding single slot solid source spacing span start status thickness title to turned unplated until version voids voltage width with within wrap
syntax keyword hemWord middle all top bottom edge_plating half_holes perforated_tabs premetallised_tabs plated_cutouts
syntax match hemFunction /\<\%(min\|max\|abs\|sqrt\|sin\|cos\|tan\)\ze\s*(/
syntax match hemName /\<[[:alpha:]_]\w*\%(\.\w\+\)\+/
syntax match hemNumber /\<\d\+\%(\.\d\+\)\=\%([eE][-+]\=\d\+\)\=/ nextgroup=hemUnit skipwhite
syntax match hemUnit /\%(degC\k\@!\|mohm\k\@!\|uohm\k\@!\|GHz\k\@!\|MHz\k\@!\|Nmm\k\@!\|deg\k\@!\|kHz\k\@!\|mil\k\@!\|ohm\k\@!\|µm\k\@!\|μm\k\@!\|Hz\k\@!\|Nm\k\@!\|cm\k\@!\|dB\k\@!\|in\k\@!\|kV\k\@!\|mA\k\@!\|mm\k\@!\|nm\k\@!\|oz\k\@!\|um\k\@!\|%\|A\k\@!\|K\k\@!\|N\k\@!\|V\k\@!\|W\k\@!\|g\k\@!\|m\k\@!\)/ contained
syntax match hemOperator /[-+*\/=]/
syntax match hemComment /\/\/.*$/ contains=@Spell
syntax region hemText start=/"/ skip=/\\["\\]/ end=/"/ end=/$/ oneline

highlight default link hemStatement Statement
highlight default link hemClause Type
highlight default link hemWord Constant
highlight default link hemFunction Function
highlight default link hemName Identifier
highlight default link hemNumber Number
highlight default link hemUnit Special
highlight default link hemOperator Operator
highlight default link hemComment Comment
highlight default link hemText String

let b:current_syntax = 'hem'
