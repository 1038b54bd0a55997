// SPDX-License-Identifier: MIT
#include "core/content/code.h"

#include "core/content/capacity.h"
#include "core/content/text.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <zint.h>

namespace touchmark::content {
namespace {

using Zint = std::unique_ptr<zint_symbol, decltype(&ZBarcode_Delete)>;

constexpr int first_rectangle = 25, last_rectangle = 30; // the library's numbers of Data Matrix sizes
constexpr std::string_view level_names = "LMQH";
constexpr int utf8_eci = 26; // AIM Extended Channel Interpretation 000026

/// What both matrix codes take a message for that says nothing else.
bool is_latin_1(std::string_view utf8) {
    const auto text = decode_utf8(utf8);
    return text && std::ranges::all_of(*text, [](char32_t c) { return c <= 0xff; });
}

/// "Error 262: Invalid character …", "Warning 261: …" → "Invalid character …"
std::string said_by(const zint_symbol& symbol) {
    std::string text = symbol.errtxt;
    const bool numbered = text.starts_with("Error ") || text.starts_with("Warning ");
    if (const auto colon = text.find(": "); numbered && colon != std::string::npos) text.erase(0, colon + 2);
    return text;
}

Error trouble(const SymbologyRow& row, const zint_symbol& symbol, int code) {
    const std::string what = std::string(row.title) + ": " + said_by(symbol) + ".";
    switch (code) {
    case ZINT_ERROR_TOO_LONG:
        return {"content.code_capacity", what, "Shorten the message, or choose a larger size or a lower level."};
    case ZINT_ERROR_INVALID_OPTION:
        return {"content.code_option", what, "Leave the size to the program, or choose another."};
    default:
        if (what.find(": AI (") != what.npos)
            return {"content.code_message", what,
                    "Check the figures of that element; the last may be its check digit."};
        return {"content.code_message", what,
                row.gs1 ? "Write each element as (identifier)value, for instance (01)09501101530003(10)A7."
                        : "Check the characters of the message."};
    }
}

/// (01)… in round brackets as people write them; a message that has square ones already is left as it is.
int input_mode(const SymbologyRow& row, const std::string& message) {
    if (!row.gs1) return UNICODE_MODE;
    return message.starts_with('[') ? GS1_MODE : GS1_MODE | GS1PARENS_MODE;
}

Zint prepared(const Code& code, const SymbologyRow& row, int version) {
    Zint symbol(ZBarcode_Create(), &ZBarcode_Delete);
    symbol->symbology = row.zint;
    symbol->input_mode = input_mode(row, code.message);
    symbol->show_hrt = 1;
    if (row.has_levels) symbol->option_1 = static_cast<int>(code.level) + 1;
    if (row.most_version > 0) symbol->option_2 = version;
    if (!row.gs1 && !row.linear && !is_latin_1(code.message)) symbol->eci = utf8_eci;
    if (row.zint == BARCODE_DATAMATRIX && version == 0) symbol->option_3 = DM_SQUARE;
    return symbol;
}

int run(zint_symbol& symbol, const std::string& message) {
    return ZBarcode_Encode(&symbol, reinterpret_cast<const unsigned char*>(message.data()),
                           static_cast<int>(message.size()));
}

bool failed(int result) {
    return result >= ZINT_ERROR || result == ZINT_WARN_INVALID_OPTION || result == ZINT_WARN_NONCOMPLIANT;
}

Symbol symbol_of(const Code& code, const SymbologyRow& row, const zint_symbol& made) {
    Symbol symbol;
    symbol.modules = ModuleGrid(made.width, made.rows);
    for (int y = 0; y < made.rows; ++y)
        for (int x = 0; x < made.width; ++x)
            symbol.modules.put(x, y, made.encoded_data[y][x / 8] >> (x % 8) & 1);
    symbol.readable = row.gs1 || row.linear ? reinterpret_cast<const char*>(made.text) : code.message;
    if (symbol.readable.empty()) symbol.readable = code.message;
    if (row.zint == BARCODE_QRCODE) {
        symbol.version = "Version " + std::to_string((made.width - 17) / 4) + "-" +
                         level_names[static_cast<std::size_t>(std::clamp(made.option_1, 1, 4) - 1)];
    } else if (row.zint == BARCODE_MICROQR) {
        symbol.version = "Version M" + std::to_string((made.width - 9) / 2);
    } else if (!row.linear) {
        symbol.version = std::to_string(made.rows) + " × " + std::to_string(made.width);
    }
    symbol.capacity = capacity_of(code, symbol.modules, std::clamp(made.option_1, 1, 4) - 1);
    return symbol;
}

ModuleGrid with_quiet_zone(const ModuleGrid& dark, int across, int along, bool inverted) {
    ModuleGrid grid(dark.columns + 2 * across, dark.rows + 2 * along);
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column)
            grid.put(column, row, dark.at(column - across, row - along) != inverted);
    return grid;
}

void add_lettering(Drawn& drawn, double gap, Drawn lettering) {
    const double down = drawn.extent.low.y - gap - lettering.extent.high.y;
    const auto shift = geometry::Affine::translation({0, down});
    const std::size_t before = drawn.outline.regions.size();
    for (geometry::Region& region : geometry::transformed(lettering.outline, shift).regions)
        drawn.outline.regions.push_back(std::move(region));
    for (Piece piece : lettering.pieces) {
        piece.first_region += before;
        piece.extent.low.y += down;
        piece.extent.high.y += down;
        drawn.pieces.push_back(std::move(piece));
    }
    drawn.missing = std::move(lettering.missing);
    drawn.face = lettering.face;
    drawn.extent.low = {std::min(drawn.extent.low.x, lettering.extent.low.x), lettering.extent.low.y + down};
    drawn.extent.high.x = std::max(drawn.extent.high.x, lettering.extent.high.x);
}

void centre(Drawn& drawn) {
    const Vec2 by = (drawn.extent.low + drawn.extent.high) * -0.5;
    drawn.outline = geometry::transformed(drawn.outline, geometry::Affine::translation(by));
    drawn.extent = {drawn.extent.low + by, drawn.extent.high + by};
    if (ModulePlaces* code = drawn.code ? &*drawn.code : nullptr) {
        code->dark = code->dark + by;
        code->light = code->light + by;
        code->whole = {code->whole.low + by, code->whole.high + by};
    }
    for (Piece& piece : drawn.pieces)
        piece.extent = {piece.extent.low + by, piece.extent.high + by};
}

void number_regions(Drawn& drawn) {
    drawn.piece_of_region.resize(drawn.outline.regions.size());
    for (std::size_t piece = 0; piece < drawn.pieces.size(); ++piece)
        std::fill_n(drawn.piece_of_region.begin() + static_cast<std::ptrdiff_t>(drawn.pieces[piece].first_region),
                    drawn.pieces[piece].region_count, static_cast<std::uint32_t>(piece));
}

/// A module of this colour with the other one on both sides; a linear symbol has one too.
Vec2 alone(const ModuleGrid& dark, bool colour, const ModuleSize& size) {
    for (int row = 0; row < dark.rows; ++row)
        for (int column = 1; column + 1 < dark.columns; ++column)
            if (dark.at(column, row) == colour && dark.at(column - 1, row) != colour &&
                dark.at(column + 1, row) != colour)
                return place_in(dark, size, column + 0.5, row + 0.5);
    return {};
}

ModuleGrid with_its_quiet_zone(const Code& code, const Symbol& symbol) {
    const SymbologyRow& row = row_of(code.symbology);
    return with_quiet_zone(symbol.modules, row.quiet_modules, row.linear ? 0 : row.quiet_modules, code.light_is_mark);
}

} // namespace

bool is_grooved(const Code& code) {
    return code.grooves > 0 && !row_of(code.symbology).linear;
}

Result<Symbol> encode(const Code& code) {
    const SymbologyRow& row = row_of(code.symbology);
    if (code.message.empty()) return fail("content.code_empty", "A code needs a message.");
    if (!decode_utf8(code.message)) return fail("content.bad_utf8", "The message of the code is not UTF-8.");
    if (code.version < 0 || code.version > row.most_version)
        return fail("content.code_option",
                    std::string(row.title) + " has no size " + std::to_string(code.version) + ".");
    int first = code.version, last = code.version;
    if (row.zint == BARCODE_DATAMATRIX && code.rectangular && code.version == 0)
        first = first_rectangle, last = last_rectangle;
    Error error;
    for (int version = first; version <= last; ++version) {
        const Zint symbol = prepared(code, row, version);
        if (const int result = run(*symbol, code.message); failed(result))
            error = trouble(row, *symbol, result);
        else
            return symbol_of(code, row, *symbol);
    }
    return std::unexpected(std::move(error));
}

Result<MarkedModules> marked_modules(const Code& code, const Drawn& drawn) {
    const Result<Symbol> symbol = encode(code);
    if (!symbol) return std::unexpected(symbol.error());
    const double module = code.module.value;
    return MarkedModules{with_its_quiet_zone(code, *symbol),
                         {.width = module, .height = row_of(code.symbology).linear ? code.bar_height.value : module},
                         drawn.pieces.front().extent.centre(),
                         is_grooved(code) ? groove_share : 1};
}

Result<Drawn> draw_code(const Code& code, const FontLibrary& fonts) {
    const SymbologyRow& row = row_of(code.symbology);
    const double module = code.module.value, height = row.linear ? code.bar_height.value : module;
    if (!(module > 0) || !(height > 0) || !std::isfinite(module) || !std::isfinite(height))
        return fail("content.size", "The modules of a code must have a size.");
    const Result<Symbol> symbol = encode(code);
    if (!symbol) return std::unexpected(symbol.error());
    const ModuleGrid whole = with_its_quiet_zone(code, *symbol);
    Drawn drawn;
    const ModuleSize size{.width = module, .height = height};
    drawn.outline = is_grooved(code) ? grooves_of(whole, size, code.grooves, groove_share) : outline_of(whole, size);
    drawn.extent = {place_in(whole, size, 0, whole.rows), place_in(whole, size, whole.columns, 0)};
    drawn.pieces.push_back({std::string(row.title), 0, drawn.outline.regions.size(), drawn.extent});
    drawn.code = ModulePlaces{module, alone(symbol->modules, true, size), alone(symbol->modules, false, size),
                              drawn.extent, code.light_is_mark ? 0 : row.quiet_modules * module};
    if (is_grooved(code)) {
        const double apart = module / code.grooves;
        drawn.code->groove_mm = apart * groove_share;
        drawn.code->rib_mm = apart - drawn.code->groove_mm;
    }
    if (code.lettering.value > 0) {
        Result<Drawn> lettering = draw_text({.text = symbol->readable, .cap_height = code.lettering}, fonts);
        if (!lettering) return std::unexpected(lettering.error());
        add_lettering(drawn, module, *std::move(lettering));
        centre(drawn);
    }
    number_regions(drawn);
    return drawn;
}

} // namespace touchmark::content
