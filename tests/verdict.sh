# shellcheck shell=bash
# How a suite counts: sourced, no suite of its own.
passed=0
failed=0
fault=

# blame WORDS: counts against the next verdict.
blame() { fault=$fault$1$'\n'; }

# verdict NAME [FINDINGS]: the check holds when there is nothing to tell, neither here nor by blame.
verdict() {
    local findings=$fault${2-}
    fault=
    if [ -z "$findings" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        printf 'FAILED %s\n' "$1"
        printf '%s\n' "${findings%$'\n'}" | sed 's/^/    /' | head -n 20
    fi
}

# The last line, and the exit code.
end() {
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
    exit
}
