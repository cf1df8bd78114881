autocmd BufRead,BufNewFile *.wet setfiletype wetside
