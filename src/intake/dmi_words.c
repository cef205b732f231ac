/* The words of DMTF DSP0134 (3.8) for its codes, as far as they are needed. Other and Unknown say
 * nothing and have none. Codes from 40h on of processor upgrades, 11h of memory forms and 24h of
 * memory types are from memory; all others as dmidecode 3.4 prints them, but for 24h of processor
 * upgrades, which version 2.8 of the standard renamed from BGA1155. */
#include "intake/dmi.h"

#define WORD_OF(words, code) word_of(words, sizeof(words) / sizeof *(words), code)

static const char *word_of(const char *const *words, size_t count, unsigned code) {
    return code < count ? words[code] : NULL;
}

/* 7.3.2 */
static const char *const boards[] = {
    [0x03] = "Server Blade",
    [0x04] = "Connectivity Switch",
    [0x05] = "System Management Module",
    [0x06] = "Processor Module",
    [0x07] = "I/O Module",
    [0x08] = "Memory Module",
    [0x09] = "Daughter Board",
    [0x0A] = "Motherboard",
    [0x0B] = "Processor+Memory Module",
    [0x0C] = "Processor+I/O Module",
    [0x0D] = "Interconnect Board",
};

const char *sw_dmi_board(unsigned code) { return WORD_OF(boards, code); }

/* 7.4.1; bit 7 is the lock */
static const char *const chassis[] = {
    [0x03] = "Desktop",
    [0x04] = "Low Profile Desktop",
    [0x05] = "Pizza Box",
    [0x06] = "Mini Tower",
    [0x07] = "Tower",
    [0x08] = "Portable",
    [0x09] = "Laptop",
    [0x0A] = "Notebook",
    [0x0B] = "Hand Held",
    [0x0C] = "Docking Station",
    [0x0D] = "All In One",
    [0x0E] = "Sub Notebook",
    [0x0F] = "Space-saving",
    [0x10] = "Lunch Box",
    [0x11] = "Main Server Chassis",
    [0x12] = "Expansion Chassis",
    [0x13] = "Sub Chassis",
    [0x14] = "Bus Expansion Chassis",
    [0x15] = "Peripheral Chassis",
    [0x16] = "RAID Chassis",
    [0x17] = "Rack Mount Chassis",
    [0x18] = "Sealed-case PC",
    [0x19] = "Multi-system",
    [0x1A] = "CompactPCI",
    [0x1B] = "AdvancedTCA",
    [0x1C] = "Blade",
    [0x1D] = "Blade Enclosing",
    [0x1E] = "Tablet",
    [0x1F] = "Convertible",
    [0x20] = "Detachable",
    [0x21] = "IoT Gateway",
    [0x22] = "Embedded PC",
    [0x23] = "Mini PC",
    [0x24] = "Stick PC",
};

const char *sw_dmi_chassis(unsigned code) { return WORD_OF(chassis, code & 0x7F); }

/* 7.5.1 */
static const char *const processors[] = {
    [0x03] = "Central Processor",
    [0x04] = "Math Processor",
    [0x05] = "DSP Processor",
    [0x06] = "Video Processor",
};

const char *sw_dmi_processor(unsigned code) { return WORD_OF(processors, code); }

/* 7.5.5 */
static const char *const upgrades[] = {
    [0x03] = "Daughter Board",
    [0x04] = "ZIF Socket",
    [0x05] = "Replaceable Piggy Back",
    [0x06] = "None",
    [0x07] = "LIF Socket",
    [0x08] = "Slot 1",
    [0x09] = "Slot 2",
    [0x0A] = "370-pin Socket",
    [0x0B] = "Slot A",
    [0x0C] = "Slot M",
    [0x0D] = "Socket 423",
    [0x0E] = "Socket A (Socket 462)",
    [0x0F] = "Socket 478",
    [0x10] = "Socket 754",
    [0x11] = "Socket 940",
    [0x12] = "Socket 939",
    [0x13] = "Socket mPGA604",
    [0x14] = "Socket LGA771",
    [0x15] = "Socket LGA775",
    [0x16] = "Socket S1",
    [0x17] = "Socket AM2",
    [0x18] = "Socket F (1207)",
    [0x19] = "Socket LGA1366",
    [0x1A] = "Socket G34",
    [0x1B] = "Socket AM3",
    [0x1C] = "Socket C32",
    [0x1D] = "Socket LGA1156",
    [0x1E] = "Socket LGA1567",
    [0x1F] = "Socket PGA988A",
    [0x20] = "Socket BGA1288",
    [0x21] = "Socket rPGA988B",
    [0x22] = "Socket BGA1023",
    [0x23] = "Socket BGA1224",
    [0x24] = "Socket LGA1155",
    [0x25] = "Socket LGA1356",
    [0x26] = "Socket LGA2011",
    [0x27] = "Socket FS1",
    [0x28] = "Socket FS2",
    [0x29] = "Socket FM1",
    [0x2A] = "Socket FM2",
    [0x2B] = "Socket LGA2011-3",
    [0x2C] = "Socket LGA1356-3",
    [0x2D] = "Socket LGA1150",
    [0x2E] = "Socket BGA1168",
    [0x2F] = "Socket BGA1234",
    [0x30] = "Socket BGA1364",
    [0x31] = "Socket AM4",
    [0x32] = "Socket LGA1151",
    [0x33] = "Socket BGA1356",
    [0x34] = "Socket BGA1440",
    [0x35] = "Socket BGA1515",
    [0x36] = "Socket LGA3647-1",
    [0x37] = "Socket SP3",
    [0x38] = "Socket SP3r2",
    [0x39] = "Socket LGA2066",
    [0x3A] = "Socket BGA1392",
    [0x3B] = "Socket BGA1510",
    [0x3C] = "Socket BGA1528",
    [0x3D] = "Socket LGA4189",
    [0x3E] = "Socket LGA1200",
    [0x3F] = "Socket LGA4677",
    [0x40] = "Socket LGA1700",
    [0x41] = "Socket BGA1744",
    [0x42] = "Socket BGA1781",
    [0x43] = "Socket BGA1211",
    [0x44] = "Socket BGA2422",
    [0x45] = "Socket LGA1211",
    [0x46] = "Socket LGA2422",
    [0x47] = "Socket LGA5773",
    [0x48] = "Socket BGA5773",
    [0x49] = "Socket AM5",
    [0x4A] = "Socket SP5",
    [0x4B] = "Socket SP6",
    [0x4C] = "Socket BGA883",
    [0x4D] = "Socket BGA1190",
    [0x4E] = "Socket BGA4129",
    [0x4F] = "Socket LGA4710",
    [0x50] = "Socket LGA7529",
    [0x51] = "Socket BGA1964",
    [0x52] = "Socket BGA1792",
    [0x53] = "Socket BGA2049",
    [0x54] = "Socket BGA2551",
    [0x55] = "Socket LGA1851",
    [0x56] = "Socket BGA2114",
    [0x57] = "Socket BGA2833",
};

const char *sw_dmi_upgrade(unsigned code) { return WORD_OF(upgrades, code); }

/* 7.10.1 */
static const char *const slots[] = {
    [0x03] = "ISA",
    [0x04] = "MCA",
    [0x05] = "EISA",
    [0x06] = "PCI",
    [0x07] = "PC Card (PCMCIA)",
    [0x08] = "VLB",
    [0x09] = "Proprietary",
    [0x0A] = "Processor Card",
    [0x0B] = "Proprietary Memory Card",
    [0x0C] = "I/O Riser Card",
    [0x0D] = "NuBus",
    [0x0E] = "PCI-66",
    [0x0F] = "AGP",
    [0x10] = "AGP 2x",
    [0x11] = "AGP 4x",
    [0x12] = "PCI-X",
    [0x13] = "AGP 8x",
    [0x14] = "M.2 Socket 1-DP",
    [0x15] = "M.2 Socket 1-SD",
    [0x16] = "M.2 Socket 2",
    [0x17] = "M.2 Socket 3",
    [0x18] = "MXM Type I",
    [0x19] = "MXM Type II",
    [0x1A] = "MXM Type III",
    [0x1B] = "MXM Type III-HE",
    [0x1C] = "MXM Type IV",
    [0x1D] = "MXM 3.0 Type A",
    [0x1E] = "MXM 3.0 Type B",
    [0x1F] = "PCI Express 2 SFF-8639 (U.2)",
    [0x20] = "PCI Express 3 SFF-8639 (U.2)",
    [0x21] = "PCI Express Mini 52-pin with bottom-side keep-outs",
    [0x22] = "PCI Express Mini 52-pin without bottom-side keep-outs",
    [0x23] = "PCI Express Mini 76-pin",
    [0x24] = "PCI Express 4 SFF-8639 (U.2)",
    [0x25] = "PCI Express 5 SFF-8639 (U.2)",
    [0x26] = "OCP NIC 3.0 Small Form Factor (SFF)",
    [0x27] = "OCP NIC 3.0 Large Form Factor (LFF)",
    [0x28] = "OCP NIC Prior to 3.0",
    [0x30] = "CXL FLexbus 1.0",
};
/* The same from A0h on. */
static const char *const late_slots[] = {
    [0x00] = "PC-98/C20",        [0x01] = "PC-98/C24",         [0x02] = "PC-98/E",
    [0x03] = "PC-98/Local Bus",  [0x04] = "PC-98/Card",        [0x05] = "PCI Express",
    [0x06] = "PCI Express x1",   [0x07] = "PCI Express x2",    [0x08] = "PCI Express x4",
    [0x09] = "PCI Express x8",   [0x0A] = "PCI Express x16",   [0x0B] = "PCI Express 2",
    [0x0C] = "PCI Express 2 x1", [0x0D] = "PCI Express 2 x2",  [0x0E] = "PCI Express 2 x4",
    [0x0F] = "PCI Express 2 x8", [0x10] = "PCI Express 2 x16", [0x11] = "PCI Express 3",
    [0x12] = "PCI Express 3 x1", [0x13] = "PCI Express 3 x2",  [0x14] = "PCI Express 3 x4",
    [0x15] = "PCI Express 3 x8", [0x16] = "PCI Express 3 x16", [0x18] = "PCI Express 4",
    [0x19] = "PCI Express 4 x1", [0x1A] = "PCI Express 4 x2",  [0x1B] = "PCI Express 4 x4",
    [0x1C] = "PCI Express 4 x8", [0x1D] = "PCI Express 4 x16", [0x1E] = "PCI Express 5",
    [0x1F] = "PCI Express 5 x1", [0x20] = "PCI Express 5 x2",  [0x21] = "PCI Express 5 x4",
    [0x22] = "PCI Express 5 x8", [0x23] = "PCI Express 5 x16", [0x24] = "PCI Express 6+",
    [0x25] = "EDSFF E1",         [0x26] = "EDSFF E3",
};

const char *sw_dmi_slot(unsigned code) {
    return code >= 0xA0 ? WORD_OF(late_slots, code - 0xA0) : WORD_OF(slots, code);
}

/* 7.10.2 */
static const char *const widths[] = {
    [0x03] = "8-bit",   [0x04] = "16-bit", [0x05] = "32-bit", [0x06] = "64-bit",
    [0x07] = "128-bit", [0x08] = "x1",     [0x09] = "x2",     [0x0A] = "x4",
    [0x0B] = "x8",      [0x0C] = "x12",    [0x0D] = "x16",    [0x0E] = "x32",
};

const char *sw_dmi_slot_width(unsigned code) { return WORD_OF(widths, code); }

/* 7.10.3 */
static const char *const usages[] = {
    [0x03] = "Available",
    [0x04] = "In Use",
    [0x05] = "Unavailable",
};

const char *sw_dmi_slot_usage(unsigned code) { return WORD_OF(usages, code); }

/* 7.17.2 */
static const char *const uses[] = {
    [0x03] = "System Memory",    [0x04] = "Video Memory", [0x05] = "Flash Memory",
    [0x06] = "Non-volatile RAM", [0x07] = "Cache Memory",
};

const char *sw_dmi_array_use(unsigned code) { return WORD_OF(uses, code); }

/* 7.18.1 */
static const char *const forms[] = {
    [0x03] = "SIMM",    [0x04] = "SIP",    [0x05] = "Chip",
    [0x06] = "DIP",     [0x07] = "ZIP",    [0x08] = "Proprietary Card",
    [0x09] = "DIMM",    [0x0A] = "TSOP",   [0x0B] = "Row Of Chips",
    [0x0C] = "RIMM",    [0x0D] = "SODIMM", [0x0E] = "SRIMM",
    [0x0F] = "FB-DIMM", [0x10] = "Die",    [0x11] = "CAMM",
};

const char *sw_dmi_memory_form(unsigned code) { return WORD_OF(forms, code); }

/* 7.18.2 */
static const char *const memories[] = {
    [0x03] = "DRAM",   [0x04] = "EDRAM",
    [0x05] = "VRAM",   [0x06] = "SRAM",
    [0x07] = "RAM",    [0x08] = "ROM",
    [0x09] = "Flash",  [0x0A] = "EEPROM",
    [0x0B] = "FEPROM", [0x0C] = "EPROM",
    [0x0D] = "CDRAM",  [0x0E] = "3DRAM",
    [0x0F] = "SDRAM",  [0x10] = "SGRAM",
    [0x11] = "RDRAM",  [0x12] = "DDR",
    [0x13] = "DDR2",   [0x14] = "DDR2 FB-DIMM",
    [0x18] = "DDR3",   [0x19] = "FBD2",
    [0x1A] = "DDR4",   [0x1B] = "LPDDR",
    [0x1C] = "LPDDR2", [0x1D] = "LPDDR3",
    [0x1E] = "LPDDR4", [0x1F] = "Logical non-volatile device",
    [0x20] = "HBM",    [0x21] = "HBM2",
    [0x22] = "DDR5",   [0x23] = "LPDDR5",
    [0x24] = "HBM3",
};

const char *sw_dmi_memory(unsigned code) { return WORD_OF(memories, code); }
