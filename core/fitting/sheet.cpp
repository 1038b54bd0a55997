// SPDX-License-Identifier: MIT
#include "core/fitting/sheet.h"

#include "core/fitting/sheet_columns.h"

namespace touchmark::fitting {
namespace {

constexpr std::string_view explained =
    "# Fill in what you see and leave empty what you did not look at. Lines that begin with # are not read.\n"
    "# printed: how many strips you looked at.\n"
    "# came_out: on how many of them it is there. A stroke or a gap: clear along its whole length. Text: both letters "
    "are read without doubt. A code: your reader reads it. With one strip yes and no will do.\n"
    "# measured_mm: the width across its middle by a loupe or a caliper; of a step its thickness. Several readings: "
    "with spaces between them.\n"
    "# light_percent: how much of a light comes through a step; or lux_through and lux_without: what a light meter "
    "says behind the step and without the strip.\n"
    "# remark: for yourself; it is not read.\n";

std::string row_of(const Item& item) {
    std::string what(series_of(item).what);
    const std::string unit = item.kind == Kind::text   ? " high"
                             : item.kind == Kind::code ? " modules"
                             : item.kind == Kind::step ? " thick"
                                                       : " wide";
    return item.name + ',' + what + "; " + short_number(item.size_mm) + " mm" + unit + ',' +
           short_number(item.size_mm) + ",,,,,,,\n";
}

} // namespace

std::string empty_sheet(const process::Process& process, std::span<const Item> items) {
    std::string out = "# Test strip for the profile " + process.id + '\n';
    out += explained;
    for (const std::string_view column : sheet_columns)
        out += std::string(column == sheet_columns[0] ? "" : ",") + std::string(column);
    out += '\n';
    for (const Item& item : items)
        out += row_of(item);
    return out;
}

} // namespace touchmark::fitting
