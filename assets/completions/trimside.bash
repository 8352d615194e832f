# Completions of trimside for bash: names come from the program while a line is typed.
_trimside() {
    local answer way name
    local -a names=()
    local marks=
    answer=$("${COMP_WORDS[0]}" complete -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null) || return
    way=${answer%%$'\n'*}
    while IFS=$'\t' read -r name _; do
        [ -n "$name" ] || continue
        names+=("$name")
        case $name in *[!A-Za-z0-9=-]*) marks=1 ;; esac
    done < <(printf '%s\n' "$answer" | tail -n +2)
    COMPREPLY=("${names[@]}")
    case $way in
        files) compopt -o default 2>/dev/null ;;
        either) [ ${#names[@]} = 0 ] && compopt -o default 2>/dev/null ;;
        folders) compopt -o dirnames 2>/dev/null ;;
    esac
    # Names with blanks and marks in them are written so that the shell takes them as one word.
    [ -n "$marks" ] && compopt -o filenames 2>/dev/null
    return 0
}
complete -F _trimside trimside
