#!/usr/bin/env bash
# Faults planted in the desk's server, one at a time: the check named beside each must see it.
#
#     tests/desk/server_faults.sh [NAME-OF-A-CHECK]
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
work=$build/tests/desk-server-faults
passed=0
failed=0
mkdir -p "$work"

# FILE of src/desk ~ what sed does to it ~ the check that must fail
faults() {
    cat <<'END'
lines.c~s/LINES_MOST 16/LINES_MOST 17/~cap
lines.c~s/close\(refused\);/(void)refused;/~cap
lines.c~s/SECONDS_TO_ARRIVE 5/SECONDS_TO_ARRIVE 50/~slowness
lines.c~s/INADDR_LOOPBACK/INADDR_ANY/~begins
lines.c~s/line->lines->own_reply\(out, code\);//~sizes
http_gate.c~s/^            return NULL;/            break;/~hosts
http_gate.c~s/strcmp\(host, ours\) == 0/strncmp(host, ours, strlen(ours)) == 0/~hosts
http_gate.c~s/return origin != NULL \&\&/return origin == NULL ||/~origins
http_gate.c~s/strcmp\(origin \+ strlen\(scheme\), host\) == 0/strncmp(origin + strlen(scheme), host, strlen(host)) == 0/~origins
http_gate.c~s/if \(\*type == '.0'\)/if (type[0] != 'x')/~types
http_gate.c~s/i < length; i\+\+/i + 1 < length; i++/~tokens
http_gate.c~s/strlen\(told\) != length/strlen(told) < length/~tokens
http_gate.c~s/return method == EVHTTP_REQ_GET \|\| method == EVHTTP_REQ_HEAD/return true/~methods
http_gate.c~s/"GET, HEAD"/"GET"/~methods
http_gate.c~s/!is_whole_number\(/!(bool)(/~lengths
http_gate.c~s/uri\[0\] != '.'/false/~paths
http.c~s/evhttp_set_max_body_size\(.*$//~sizes
http.c~s/evhttp_set_max_headers_size\(.*$//~sizes
http.c~s/^        body = NULL;//~methods
http.c~s/EV_READ \| EV_CLOSED \| EV_ET/EV_CLOSED/~leaving
http.c~s/\{"Cache-Control", "no-store"\},//~page
http.c~s/\{"Connection", "close"\},//~pipelines
http.c~s/call->left\(call->context\);/;/~leaving
workers.c~s/AT_ONCE 3/AT_ONCE 4/~leaving
workers.c~s/WAITING_MOST 8/WAITING_MOST 9/~leaving
workers.c~s/kill\(work->pid, SIGKILL\);//~leaving
workers.c~s/SECONDS_MORE 10/SECONDS_MORE 60/~deaths
workers.c~s/sw_folder_remove\(work->folder\);/;/~papers
workers.c~s/free\(work->text\);/;/~memory
workers.c~s/0600/0644/~limits
worker_child.c~s/limit\(RLIMIT_CORE, 0, 0\)/true/~limits
worker_child.c~s/limit\(RLIMIT_AS, [^)]*\)/true/~limits
worker_child.c~s/prctl\(PR_SET_PDEATHSIG, SIGKILL\);//~signals
worker_child.c~s/close_all_above\(STDERR_FILENO\);//~limits
requests_ask.c~s/\.exit = outcome->exit/.exit = 0/~as-line
requests_ask.c~s/case 65:/case 99:/~as-line
requests_ask.c~s/if \(a->setting_count > 0\)/if (false)/~changes
questions.c~s/"budget", "--budget"/"budget", "--seconds"/~as-line
questions.c~s/add\(&l, "--"\);//~files
papers_made.c~s/sw_random_digits\(made->ticket, SW_TICKET_DIGITS\)/(memset(made->ticket, 'a', SW_TICKET_DIGITS), true)/~tickets
requests.c~s/; frame-ancestors 'none'//~papers
requests.c~s/if \(of == NULL\)/if (false)/~bodies
requests_step.c~s/if \(id != NULL\)/if (false)/~uses
desk.c~s/sw_folder_remove\(desk->folder\);/;/~signals
desk.c~s/SIGTERM, SIGHUP, SIGQUIT/SIGTERM, SIGQUIT, SIGQUIT/~signals
desk.c~s/SIGHUP, SIGQUIT/SIGHUP, SIGHUP/~signals
desk.c~s/status = check_catalog\(desk, complaints\);/;/~exits
leftovers.c~s/ && !is_held_folder\(folder, name\)//~signals
lines.c~s/    keep_reading\(line\);//~too-long
lines.c~s/SECONDS_TO_STOP 5/SECONDS_TO_STOP 50/~too-long
desk.c~s/now.sa_handler == SIG_IGN/false/~signals
requests_ask.c~s/case 66:/case 99:/~files
END
}

settings=(-std=c17 -D_XOPEN_SOURCE=700 -O1 -ffp-contract=off -Isrc -Iinclude "-I$build/made")
make --no-print-directory BUILD="$build" "$build/swapworth" >"$work/make.log" 2>&1 || { tail "$work/make.log"; exit 1; }

number=0
while IFS='~' read -r file how check; do
    number=$((number + 1))
    [ -n "${1-}" ] && [ "$1" != "$check" ] && continue
    sed -E "$how" "src/desk/$file" >"$work/$file"
    others=()
    for other in src/desk/*.c; do
        [ "$other" = "src/desk/$file" ] || others+=("$build/${other%.c}.o")
    done
    if cmp -s "$work/$file" "src/desk/$file"; then
        echo "FAILED $file $how: plants nothing"
        failed=$((failed + 1))
    elif ! gcc "${settings[@]}" -o "$work/swapworth" "$work/$file" "$build"/src/face/*.o "${others[@]}" \
        "$build/libswapworth.a" -levent_core -levent_extra -lglpk -lcjson -lcsv -lm 2>"$work/gcc.log"; then
        echo "FAILED $file $how: does not build: $(head -n 3 "$work/gcc.log")"
        failed=$((failed + 1))
    elif SWAPWORTH=$work/swapworth timeout 200 node tests/desk/server.mjs "$work/run" "$check" >"$work/$number.log" 2>&1 ||
        ! grep -q '^FAILED' "$work/$number.log"; then
        echo "FAILED $file $how: $check does not see it"
        failed=$((failed + 1))
    else
        passed=$((passed + 1))
    fi
done < <(faults)
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
