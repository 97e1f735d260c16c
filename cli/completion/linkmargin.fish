# Completion of linkmargin for fish: the program says what may come next.
function __linkmargin_suggest
    set -l before (commandline -opc)
    set -l last (commandline -ct | string trim --left --chars '"\'' | string replace --all '\\' '')
    set -l answer ($before[1] suggest -- $before[2..] "$last" 2>/dev/null)
    if test "$answer[1]" = files
        __fish_complete_path "$last"
    end
    printf '%s\n' $answer[2..]
end
complete --command linkmargin --no-files --arguments '(__linkmargin_suggest)'
