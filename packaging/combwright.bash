# SPDX-License-Identifier: Apache-2.0
# Bash completion for combwright.

_combwright() {
  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]}
  local arranging="--bars --transpose --tempo"
  local words
  if [ "$COMP_CWORD" -eq 1 ]; then
    words="check action arrange clip comb disc hear pack pitch scale tooth --help --version"
  else
    case ${COMP_WORDS[1]} in
      check | action) words="--json --help" ;;
      arrange) words="$arranging --midi --force --json --help" ;;
      clip) words="--comb --track --readings --shop --beside --risk --json --help" ;;
      comb) words="--shop --dxf --out --learn --force --json --help" ;;
      disc) words="--out --from --shop $arranging --force --json --help" ;;
      hear) words="-o --shop $arranging --force --json --help" ;;
      pack) words="--out --shop $arranging --force --json --help" ;;
      pitch) words="--near --pair --comb --which --shop --temperature --json --help" ;;
      scale) words="--teeth --lowest --highest --notes --force --json --help" ;;
      tooth)
        words="--length --width --thickness --tip-thickness --lead --lead-length --root-stiffness
          --modulus --density --theory --temperature --json --help" ;;
    esac
    case $previous in
      --bars | --transpose | --tempo | --teeth | --lowest | --highest | --near | --which | --track | --beside | --risk) words= ;;
    esac
  fi
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ] || [[ $current == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}
complete -o filenames -F _combwright combwright
