// SPDX-License-Identifier: MIT
#include "core/content/utf8.h"

namespace touchmark::content {
namespace {

struct Lead {
    int following;     ///< continuation bytes
    char32_t bits;     ///< of the lead byte
    char32_t smallest; ///< code point that needs this length
};

std::optional<Lead> lead_of(unsigned char byte) {
    if (byte < 0x80) return Lead{0, byte, 0};
    if ((byte & 0xe0) == 0xc0) return Lead{1, byte & 0x1fu, 0x80};
    if ((byte & 0xf0) == 0xe0) return Lead{2, byte & 0x0fu, 0x800};
    if ((byte & 0xf8) == 0xf0) return Lead{3, byte & 0x07u, 0x10000};
    return std::nullopt;
}

std::string from_utf16(std::string_view bytes, bool big_endian) {
    std::u32string text;
    const auto unit = [&](std::size_t i) {
        const auto a = static_cast<unsigned char>(bytes[i]), b = static_cast<unsigned char>(bytes[i + 1]);
        return static_cast<char32_t>(big_endian ? a << 8 | b : b << 8 | a);
    };
    for (std::size_t i = 2; i + 1 < bytes.size(); i += 2) {
        char32_t c = unit(i);
        if (c >= 0xd800 && c < 0xdc00 && i + 3 < bytes.size()) {
            c = 0x10000 + ((c - 0xd800) << 10) + (unit(i + 2) - 0xdc00);
            i += 2;
        }
        text += c < 0x110000 && (c < 0xd800 || c > 0xdfff) ? c : U'\ufffd';
    }
    return encode_utf8(text);
}

} // namespace

std::optional<std::u32string> decode_utf8(std::string_view text) {
    std::u32string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = lead_of(static_cast<unsigned char>(text[i++]));
        if (!lead) return std::nullopt;
        char32_t code = lead->bits;
        for (int k = 0; k < lead->following; ++k, ++i) {
            if (i >= text.size()) return std::nullopt;
            const auto byte = static_cast<unsigned char>(text[i]);
            if ((byte & 0xc0) != 0x80) return std::nullopt;
            code = (code << 6) | (byte & 0x3fu);
        }
        const bool surrogate = code >= 0xd800 && code <= 0xdfff;
        if (code < lead->smallest || code > 0x10ffff || surrogate) return std::nullopt;
        out += code;
    }
    return out;
}

std::string encode_utf8(std::u32string_view text) {
    std::string out;
    const auto put = [&](char32_t value) { out += static_cast<char>(value); };
    for (const char32_t code : text) {
        if (code < 0x80) {
            put(code);
        } else if (code < 0x800) {
            put(0xc0 | code >> 6), put(0x80 | (code & 0x3f));
        } else if (code < 0x10000) {
            put(0xe0 | code >> 12), put(0x80 | (code >> 6 & 0x3f)), put(0x80 | (code & 0x3f));
        } else {
            put(0xf0 | code >> 18), put(0x80 | (code >> 12 & 0x3f)), put(0x80 | (code >> 6 & 0x3f)),
                put(0x80 | (code & 0x3f));
        }
    }
    return out;
}

std::string utf8_from(std::string bytes) {
    if (bytes.starts_with("\xff\xfe") || bytes.starts_with("\xfe\xff")) return from_utf16(bytes, bytes[0] == '\xfe');
    if (bytes.starts_with("\xef\xbb\xbf")) bytes.erase(0, 3);
    if (decode_utf8(bytes)) return bytes;
    std::u32string text;
    for (const char c : bytes)
        text += static_cast<unsigned char>(c);
    return encode_utf8(text);
}

} // namespace touchmark::content
