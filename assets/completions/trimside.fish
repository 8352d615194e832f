# Completions of trimside for fish: names come from the program while a line is typed.
function __trimside_complete
    set -l words (commandline -opc)
    set -l typed (commandline -ct)
    set -l answer ($words[1] complete -- $words[2..] "$typed" 2>/dev/null)
    set -l names $answer[2..]
    switch "$answer[1]"
        case files either
            test (count $names) -gt 0; and printf '%s\n' $names; or __fish_complete_path "$typed"
        case folders
            __fish_complete_directories "$typed"
        case '*'
            test (count $names) -gt 0; and printf '%s\n' $names
    end
end
complete -c trimside -f -a '(__trimside_complete)'
