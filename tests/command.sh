# Shell helpers of the script tests that run the command; read in after tube=COMMAND was set:
#     . "$2/tests/command.sh"
# They keep a folder of their own, $dir, and collect in $fail.
dir=$(mktemp -d)
trap 'chmod -R u+w "$dir" 2>/dev/null; rm -rf "$dir"' EXIT
fail=0

# want CODE WHAT ARGS...: runs the command, output in $dir/out and $dir/err.
want() {
    code=$1 what=$2
    shift 2
    "$tube" "$@" >"$dir/out" 2>"$dir/err" </dev/null
    got=$?
    if [ $got -ne "$code" ]; then
        echo "FAILED $what: exit $got, want $code"
        head -3 "$dir/err"
        fail=1
    fi
}

# says WORDS out|err: of the last command.
says() { grep -q -- "$1" "$dir/$2" || { echo "FAILED: \"$1\" is not in $2 of the last command"; fail=1; }; }
