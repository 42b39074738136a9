" Writes the highlight group at each place of HEMLINE_PLACES, [[line, column], …].
source $HEMLINE_STEPS

function! s:session() abort
  syntax enable
  call Say('groups', map(json_decode(join(readfile($HEMLINE_PLACES))), {_, at -> synIDattr(synID(at[0] + 1, at[1] + 1, 1), 'name')}))
endfunction

call Play(function('s:session'))
