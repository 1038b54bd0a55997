// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>

namespace touchmark {

/// 128 bits that name a content: the key under which a result is cached. Not cryptographic.
struct Digest {
    std::uint64_t high = 0, low = 0;

    friend constexpr auto operator<=>(const Digest&, const Digest&) = default;
    /// 32 lower-case hexadecimal digits.
    [[nodiscard]] std::string text() const;
    [[nodiscard]] static std::optional<Digest> from_text(std::string_view text);
};

/// Feeds values in, in a fixed order; the same values give the same digest on every machine of one byte order.
class Digester {
public:
    Digester& bytes(std::span<const std::byte> data);
    Digester& add(std::string_view text); ///< length first, so that "ab","c" differs from "a","bc"
    Digester& add(const char* text) { return add(std::string_view(text)); }
    Digester& add(const Digest& digest) { return add(digest.high).add(digest.low); }
    /// -0.0 counts as 0.0, every NaN as one.
    Digester& add(double value);
    template <class T>
        requires std::integral<T> || std::is_enum_v<T>
    Digester& add(T value) {
        return word(static_cast<std::uint64_t>(value));
    }
    [[nodiscard]] Digest digest() const;

private:
    Digester& word(std::uint64_t value);
    std::uint64_t a_ = 0x9e3779b97f4a7c15ull, b_ = 0xc2b2ae3d27d4eb4full, count_ = 0;
};

} // namespace touchmark

template <> struct std::hash<touchmark::Digest> {
    std::size_t operator()(const touchmark::Digest& digest) const noexcept {
        return static_cast<std::size_t>(digest.low);
    }
};
