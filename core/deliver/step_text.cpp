// SPDX-License-Identifier: MIT
#include "core/deliver/step_text.h"

#include <array>
#include <cstdio>

namespace touchmark::deliver {
namespace {

bool plain(char c) {
    return static_cast<unsigned char>(c) < 0x80;
}

/// The code point at the start of `text` and its length; length 0 when it is not UTF-8.
struct Decoded {
    char32_t code = 0;
    std::size_t length = 0;
};

Decoded decode(std::string_view text) {
    const auto lead = static_cast<unsigned char>(text[0]);
    const std::size_t length = lead >= 0xf0 && lead < 0xf8   ? 4
                               : lead >= 0xe0 && lead < 0xf0 ? 3
                               : lead >= 0xc2 && lead < 0xe0 ? 2
                                                             : 0;
    if (length == 0 || length > text.size()) return {};
    char32_t code = lead & (0x7fu >> length);
    for (std::size_t i = 1; i < length; ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        if ((byte & 0xc0) != 0x80) return {};
        code = code << 6 | (byte & 0x3f);
    }
    return {code, length};
}

void append_hex(std::string& out, char32_t code, int digits) {
    std::array<char, 16> text{};
    std::snprintf(text.data(), text.size(), "%0*X", digits, static_cast<unsigned>(code));
    out += text.data();
}

} // namespace

std::string with_encoded_strings(std::string_view step) {
    std::string out;
    out.reserve(step.size() + step.size() / 64);
    for (std::size_t i = 0; i < step.size();) {
        if (plain(step[i])) {
            out += step[i++];
            continue;
        }
        const Decoded first = decode(step.substr(i));
        if (first.length == 0) {
            out += step[i++];
            continue;
        }
        const bool wide = first.code > 0xffff;
        out += wide ? "\\X4\\" : "\\X2\\";
        while (i < step.size() && !plain(step[i])) {
            const Decoded next = decode(step.substr(i));
            if (next.length == 0 || (next.code > 0xffff) != wide) break;
            append_hex(out, next.code, wide ? 8 : 4);
            i += next.length;
        }
        out += "\\X0\\";
    }
    return out;
}

} // namespace touchmark::deliver
