// SPDX-License-Identifier: MIT
#include "core/deliver/step_text.h"

#include <algorithm>

namespace touchmark::deliver {
namespace {

bool printable(char c) {
    return c >= 0x20 && c < 0x7f;
}

struct Decoded {
    char32_t code = 0;
    std::size_t length = 1;
};

/// The character at the start of `text`, a byte of Latin-1 when it is not UTF-8.
Decoded decode(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<char32_t>(static_cast<unsigned char>(text[i])); };
    const char32_t lead = byte(0);
    const std::size_t length = lead >= 0xc2 && lead < 0xe0   ? 2
                               : lead >= 0xe0 && lead < 0xf0 ? 3
                               : lead >= 0xf0 && lead < 0xf5 ? 4
                                                             : 1;
    if (length == 1 || length > text.size()) return {lead, 1};
    char32_t code = lead & (0x7fu >> length);
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xc0) != 0x80) return {lead, 1};
        code = code << 6 | (byte(i) & 0x3f);
    }
    return {code, length};
}

void append_hex(std::string& out, char32_t code, int digits) {
    for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4)
        out += "0123456789ABCDEF"[code >> shift & 15];
}

/// A run of characters that need the same directive.
std::size_t append_run(std::string& out, std::string_view text) {
    const Decoded first = decode(text);
    if (first.code < 0x20 || first.code == 0x7f) {
        out += "\\X\\";
        append_hex(out, first.code, 2);
        return 1;
    }
    const bool wide = first.code > 0xffff;
    out += wide ? "\\X4\\" : "\\X2\\";
    std::size_t used = 0;
    while (used < text.size() && static_cast<unsigned char>(text[used]) >= 0x80) {
        const Decoded next = decode(text.substr(used));
        if ((next.code > 0xffff) != wide) break;
        append_hex(out, next.code, wide ? 8 : 4);
        used += next.length;
    }
    out += "\\X0\\";
    return used;
}

void append_string(std::string& out, std::string_view folded) {
    std::string text;
    for (const char c : folded)
        if (c != '\n' && c != '\r') text += c;
    for (std::size_t i = 0; i < text.size();) {
        if (printable(text[i]))
            out += text[i++];
        else
            i += append_run(out, std::string_view(text).substr(i));
    }
}

} // namespace

std::string with_encoded_strings(std::string_view step) {
    std::string out;
    out.reserve(step.size() + step.size() / 64);
    while (!step.empty()) {
        const std::size_t open = step.find('\'');
        out += step.substr(0, open);
        if (open == std::string_view::npos) break;
        out += '\'';
        step.remove_prefix(open + 1);
        // A doubled quote ends one string and opens the next: harmless.
        const std::size_t close = std::min(step.find('\''), step.size());
        append_string(out, step.substr(0, close));
        step.remove_prefix(close);
        if (step.empty()) break;
        out += '\'';
        step.remove_prefix(1);
    }
    return out;
}

} // namespace touchmark::deliver
