/* What writes the counts of coverage. The desk's workers end by _exit, past it: linked with
   --wrap=_exit it is called first. And it asks for memory and opens files, which is no matter of
   the suite of failing machines (tests/failing): that one rests meanwhile, or whatever has no
   memory left would count nothing. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdbool.h>
#include <unistd.h>

void __gcov_dump(void);
void __real___gcov_exit(void);
_Noreturn void __real__exit(int code);

static void rest(bool rests) {
    void (*failing_rest)(bool);
    *(void **)&failing_rest = dlsym(RTLD_DEFAULT, "failing_rest");
    if (failing_rest != 0)
        failing_rest(rests);
}

void __wrap___gcov_exit(void) {
    rest(true);
    __real___gcov_exit();
    rest(false);
}

_Noreturn void __wrap__exit(int code) {
    rest(true);
    __gcov_dump();
    __real__exit(code);
}
