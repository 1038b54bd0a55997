// SPDX-License-Identifier: MIT
#include "core/content/code.h"

#include <algorithm>
#include <array>
#include <zint.h>

namespace touchmark::content {
namespace {

// Quiet zones: ISO/IEC 18004:2015 6.3.8 (QR 4 modules, Micro QR 2), ISO/IEC 16022:2006 7.1 (1 module), ISO/IEC
// 15417:2007 4.4.2 and GS1 General Specifications 5.4 (10 modules at either end); from memory.
constexpr std::array rows{
    SymbologyRow{Symbology::data_matrix, "data_matrix", "Data Matrix", "ISO/IEC 16022", BARCODE_DATAMATRIX, false,
                 false, 1, false, 30},
    SymbologyRow{Symbology::qr, "qr", "QR code", "ISO/IEC 18004", BARCODE_QRCODE, false, false, 4, true, 40},
    SymbologyRow{Symbology::micro_qr, "micro_qr", "Micro QR code", "ISO/IEC 18004", BARCODE_MICROQR, false, false, 2,
                 true, 4},
    SymbologyRow{Symbology::code_128, "code_128", "Code 128", "ISO/IEC 15417", BARCODE_CODE128, false, true, 10, false,
                 0},
    SymbologyRow{Symbology::gs1_128, "gs1_128", "GS1-128", "GS1 General Specifications", BARCODE_GS1_128, true, true,
                 10, false, 0},
    SymbologyRow{Symbology::gs1_data_matrix, "gs1_data_matrix", "GS1 DataMatrix", "GS1 General Specifications",
                 BARCODE_DATAMATRIX, true, false, 1, false, 30},
    SymbologyRow{Symbology::gs1_qr, "gs1_qr", "GS1 QR code", "GS1 General Specifications", BARCODE_QRCODE, true, false,
                 4, true, 40},
};

} // namespace

std::span<const SymbologyRow> symbologies() {
    return rows;
}

const SymbologyRow& row_of(Symbology symbology) {
    return *std::ranges::find(rows, symbology, &SymbologyRow::symbology);
}

} // namespace touchmark::content
