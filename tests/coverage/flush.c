/* The desk's workers end by _exit, past what writes the counts of coverage: linked with
   --wrap=_exit this writes them first. */
#include <unistd.h>

void __gcov_dump(void);
_Noreturn void __real__exit(int code);
_Noreturn void __wrap__exit(int code);

void __wrap__exit(int code) {
    __gcov_dump();
    __real__exit(code);
}
