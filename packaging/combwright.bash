# SPDX-License-Identifier: Apache-2.0
# Bash completion for combwright.

_combwright() {
  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]}
  local arranging="--bars --transpose --tempo --melody --lock"
  local words
  if [ "$COMP_CWORD" -eq 1 ]; then
    words="check action arrange clip comb disc hear log motor pack pitch scale tooth workbench --help --version"
  elif [ "${COMP_WORDS[1]}" = log ]; then
    local filter="--box --comb --track --since --who"
    if [ "$COMP_CWORD" -eq 2 ]; then
      words="add test strike scrap list export certificate backup check --help"
    else
      case ${COMP_WORDS[2]} in
        add)
          words="--db --comb --track --frequency --stderr --decay --temperature --clipped --filed-root
            --filed-tip --who --at --remark --json --help" ;;
        test) words="--db --remark --who --at --json --help" ;;
        strike) words="--db --remark --work-too --json --help" ;;
        scrap) words="--db --comb --at --remark --json --help" ;;
        list) words="--db $filter --json --help" ;;
        export) words="--db $filter --as-cut -o --force --json --help" ;;
        certificate) words="--db --comb --shop -o --force --json --help" ;;
        backup) words="--db -o --force --json --help" ;;
        check) words="--db --json --help" ;;
      esac
    fi
  else
    case ${COMP_WORDS[1]} in
      check) words="--json --help" ;;
      action)
        words="--shop --track --at --svg --plot --tolerances --boxes --seed --force --json --help" ;;
      arrange) words="$arranging --midi --force --json --help" ;;
      clip)
        words="--comb --track --clipped --filed-root --filed-tip --temperature --db --who --remark
          --readings --shop --beside --risk --json --help" ;;
      comb) words="--shop --dxf --out --learn --force --json --help" ;;
      disc) words="--out --from --shop $arranging --force --json --help" ;;
      hear) words="-o --shop --wind $arranging --force --json --help" ;;
      motor)
        words="--shop $arranging --size --plays --turn-time --tempo-drop --barrel --dxf --force --json --help" ;;
      pack) words="--out --shop $arranging --force --json --help" ;;
      pitch)
        words="--near --pair --comb --which --shop --temperature --db --who --remark --json --help" ;;
      scale) words="--teeth --lowest --highest --notes --force --json --help" ;;
      tooth)
        words="--length --width --thickness --tip-thickness --lead --lead-length --root-stiffness
          --modulus --density --theory --temperature --json --help" ;;
      workbench) words="--db --port --open --help" ;;
    esac
    [ "$previous" = --wind ] && words="full half last"
    case $previous in
      --bars | --transpose | --tempo | --melody | --lock | --plays | --turn-time | --tempo-drop | --barrel | --teeth | --lowest | --highest | --near | --which | --track | --beside | --risk | --boxes | --seed | --port) words= ;;
    esac
  fi
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ] || [ "$COMP_CWORD $previous" = "2 log" ] || [ "$previous" = --wind ] || [[ $current == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}
complete -o filenames -F _combwright combwright
