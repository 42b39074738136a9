autocmd BufRead,BufNewFile *.hem setfiletype hem
