" Checks a file without a client of language servers.
source $HEMLINE_STEPS

function! s:session() abort
  compiler hemline
  silent make!
  call Say('found', map(getqflist(), {_, d -> [fnamemodify(bufname(d.bufnr), ':t'), d.lnum, d.col, d.text]}))
endfunction

call Play(function('s:session'))
