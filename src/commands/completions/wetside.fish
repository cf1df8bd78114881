# fish completion for wetside. The program itself says what may come next (`wetside complete`), so nothing is listed here.

function __wetside_complete
    set -l words (commandline -opc)
    set -l last (commandline -ct)
    set -l before (string match -r -- '^--[^=]*=' $last)
    set -l typed (string replace -r -- '^--[^=]*=' '' $last)
    for line in (command $words[1] complete -- $words[2..-1] "$last" 2>/dev/null)
        switch $line
            case :recipes
                __fish_complete_path $typed | string match -e -r -- '^[^\t]*(?:\.wet|/)(?:\t|$)' | string replace -r -- '^' "$before"
            case :files
                __fish_complete_path $typed | string replace -r -- '^' "$before"
            case :folders
                __fish_complete_directories $typed '' | string replace -r -- '^' "$before"
            case '*'
                echo $line
        end
    end
end

complete -c wetside -f -a '(__wetside_complete)'
