" What the scripts share: each writes what the editor knows at each step, a
" line each, as NAME TAB JSON. A failure ends the editor with code 1.
set nocompatible nomore hidden
let s:lines = []

function! Say(name, value) abort
  call add(s:lines, a:name . "\t" . json_encode(a:value))
  call writefile(s:lines, $HEMLINE_OUT)
endfunction

function! WaitFor(what, Ready) abort
  for l:n in range(400)
    if a:Ready()
      return
    endif
    sleep 25m
  endfor
  throw 'waited in vain for ' . a:what
endfunction

function! Play(Session) abort
  try
    call a:Session()
  catch
    call Say('failed', v:exception . ' at ' . v:throwpoint)
    cquit!
  endtry
  qall!
endfunction
