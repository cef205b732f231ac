/*
 * Letters of ASCII in small and in capitals. Not tolower(): the locale has no say.
 */
#ifndef SW_BASE_LETTERS_H
#define SW_BASE_LETTERS_H

static inline char sw_small_letter(char byte) {
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz";
    return byte >= 'A' && byte <= 'Z' ? letters[byte - 'A'] : byte;
}

static inline char sw_capital_letter(char byte) {
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    return byte >= 'a' && byte <= 'z' ? letters[byte - 'a'] : byte;
}

#endif
