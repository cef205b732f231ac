/* Digits behind the point of the currencies of ISO 4217. */
#include "base/base.h"

#include <string.h>

/* Codes of one length, one after another, by their minor unit. Codes without
 * a minor unit (metals, test codes) are left out: nothing is priced in them. */
static const char two[] =
    "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN "
    "BZD CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP "
    "GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP "
    "LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR "
    "NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN "
    "SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD XCG YER ZAR "
    "ZMW ZWG ";
static const char none[] = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF ";
static const char three[] = "BHD IQD JOD KWD LYD OMR TND ";
static const char four[] = "CLF UYW ";

static bool holds(const char *codes, const char *code) {
    for (const char *at = codes; *at != '\0'; at += 4)
        if (memcmp(at, code, 3) == 0)
            return true;
    return false;
}

int sw_currency_digits(const char *code) {
    if (strlen(code) != 3)
        return -1;
    if (holds(two, code))
        return 2;
    if (holds(none, code))
        return 0;
    if (holds(three, code))
        return 3;
    return holds(four, code) ? 4 : -1;
}
