// SPDX-License-Identifier: MIT
#include "core/base/digest.h"

#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>
#include <limits>

namespace touchmark {
namespace {

// The finaliser of SplitMix64 (Steele, Lea, Flood: "Fast splittable pseudorandom number generators", 2014).
constexpr std::uint64_t mix(std::uint64_t x) {
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ull;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebull;
    return x ^ (x >> 31);
}

void append_hex(std::string& out, std::uint64_t value) {
    constexpr char digits[] = "0123456789abcdef";
    for (int shift = 60; shift >= 0; shift -= 4)
        out += digits[(value >> shift) & 15];
}

} // namespace

std::string Digest::text() const {
    std::string out;
    append_hex(out, high);
    append_hex(out, low);
    return out;
}

std::optional<Digest> Digest::from_text(std::string_view text) {
    if (text.size() != 32) return std::nullopt;
    Digest digest;
    const char* begin = text.data();
    const auto first = std::from_chars(begin, begin + 16, digest.high, 16);
    const auto second = std::from_chars(begin + 16, begin + 32, digest.low, 16);
    if (first.ec != std::errc() || first.ptr != begin + 16 || second.ec != std::errc() || second.ptr != begin + 32)
        return std::nullopt;
    return digest;
}

Digester& Digester::word(std::uint64_t value) {
    // Two lanes with different constants and rotations, so that a collision in one does not imply one in the other.
    a_ = mix(std::rotl(a_, 23) ^ (value * 0x9fb21c651e98df25ull)) + 0x9e3779b97f4a7c15ull;
    b_ = mix(std::rotl(b_, 41) + value) ^ 0xd6e8feb86659fd93ull;
    ++count_;
    return *this;
}

Digester& Digester::bytes(std::span<const std::byte> data) {
    word(data.size());
    while (!data.empty()) {
        std::uint64_t value = 0;
        const std::size_t n = std::min<std::size_t>(data.size(), sizeof value);
        std::memcpy(&value, data.data(), n);
        word(value);
        data = data.subspan(n);
    }
    return *this;
}

Digester& Digester::add(std::string_view text) {
    return bytes(std::as_bytes(std::span(text.data(), text.size())));
}

Digester& Digester::add(double value) {
    if (value == 0) value = 0;
    if (std::isnan(value)) value = std::numeric_limits<double>::quiet_NaN();
    return word(std::bit_cast<std::uint64_t>(value));
}

Digest Digester::digest() const {
    return {mix(a_ ^ count_), mix(b_ + count_)};
}

} // namespace touchmark
