# Completion of storyrod for bash.
_storyrod() {
    local cur=${COMP_WORDS[COMP_CWORD]} words=""
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "open plan check batch day jigs compare beside study edges trial rescue log wish new completion --help --version" -- "$cur"))
        return
    fi
    case ${COMP_WORDS[1]} in
        open) words="--help --port --no-browser --network --certificate --certificate-key" ;;
        plan) words="--help --out --print --rods --quote-without --step --seconds --log --again --labels --json" ;;
        check) words="--help --why --solids --json" ;;
        batch) words="--help --out --title --no-print --json" ;;
        day) words="--help --start --log --out --no-print --json" ;;
        jigs) words="--help --a-year --depths --one-more --years --out --no-print --own --json" ;;
        compare) words="--help --rate --per-year --batch --allowance --learning --log --methods --all-pairs --json" ;;
        beside) words="--help --methods --log --out" ;;
        study) words="--help --out --workers --cluster --json" ;;
        edges) words="--help --json" ;;
        trial) words="--help --set-up --step --gap --fence --packer --json" ;;
        rescue) words="--help --panel --what --copy --cuts --surface --joints --note --along --across --depth --cut-width --length --width --thickness --out-of-square --from-end --from-edge --size --off --cut --log --undo --redo --case --by --take --sheet --json" ;;
        log) words="--help --job --export --import --rescue-to --rack --cut --copy --take-off --json" ;;
        wish) words="--help --take --job --pictures --all --seed --json" ;;
        new) words="--help --width --height --depth --drawers --plinth --title --inches" ;;
        completion) words="--help" ;;
    esac
    case $cur in
        -*) COMPREPLY=($(compgen -W "$words" -- "$cur")) ;;
        *) COMPREPLY=($(compgen -f -- "$cur")) ;;
    esac
}
complete -o filenames -F _storyrod storyrod
