# Shell helpers of the script tests that run the command; read in after tube=COMMAND was set:
#     . "$2/tests/command.sh"
# They keep a folder of their own, $dir, and collect in $fail.
dir=$(mktemp -d)
trap 'chmod -R u+w "$dir" 2>/dev/null; rm -rf "$dir"' EXIT
fail=0

# bad WORDS: a check of the script's own that failed.
bad() { echo "FAILED: $1"; fail=1; }

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

# says WORDS out|err: of the last command; where the lines of a sentence break does not matter.
says() { tr -s ' \n' '  ' <"$dir/$2" | grep -q -- "$1" || { echo "FAILED: \"$1\" is not in $2 of the last command"; fail=1; }; }
