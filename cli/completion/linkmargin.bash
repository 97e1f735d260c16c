# Completion of linkmargin for bash: the program says what may come next.
_linkmargin() {
  local program=${1/#\~\//$HOME/} typed=("${COMP_WORDS[@]:1:COMP_CWORD}") i kind word
  COMPREPLY=()
  for i in "${!typed[@]}"; do # as the shell would read them
    typed[i]=${typed[i]#[\'\"]}
    typed[i]=${typed[i]%[\'\"]}
    typed[i]=${typed[i]//\\/}
    typed[i]=${typed[i]/#\~\//$HOME/}
  done
  local beginning=${COMP_WORDS[COMP_CWORD]#[\'\"]}
  [[ $beginning == = ]] && beginning=
  {
    IFS= read -r kind || return
    while IFS=$'\t' read -r word _; do
      COMPREPLY+=("$word")
    done
  } < <("$program" suggest -- "${typed[@]}" 2> /dev/null)
  if [[ $kind == files ]]; then
    while IFS= read -r word; do
      COMPREPLY+=("$word")
    done < <(compgen -f -- "$beginning")
  fi
  if [[ $kind == files || ${COMPREPLY[*]} == *" "* ]]; then
    compopt -o filenames 2> /dev/null # bash then quotes what has blanks
  fi
}
complete -F _linkmargin linkmargin
