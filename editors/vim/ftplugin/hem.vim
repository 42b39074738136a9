if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal comments=://
setlocal commentstring=//\ %s
setlocal formatoptions-=t formatoptions+=croql
setlocal shiftwidth=2 softtabstop=2 expandtab
" gf on a path behind `use`, and the search of included files.
setlocal include=^\\s*use\\>
let b:undo_ftplugin = 'setlocal comments< commentstring< formatoptions< shiftwidth< softtabstop< expandtab< include<'
