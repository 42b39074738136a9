" Generated from the vocabulary; see DEVELOPERS.md.
if exists('b:current_syntax')
  finish
endif

" A dot goes on with a name, whose parts are then no keywords.
syntax iskeyword @,48-57,_,.,192-255

syntax keyword hemStatement accept board castellation connector cutout fabricator feature fence gap hem hole let note outline plane plating relief stack tab use
syntax keyword hemClause along arc around at because body bridged by circle class clearance clockwise close copper corner current diameter dielectric extend finish finishes for frequency from hazard inset land layers length limit line loss margin maximum minimum net of offers on opens over perforated permittivity pin pitch plated premetallised pullback reach rectangle revision rise shielding slot solid source span start thickness title to turned unplated until voltage width with wrap
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
