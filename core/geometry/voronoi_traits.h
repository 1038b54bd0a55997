// SPDX-License-Identifier: MIT
#pragma once

#include <boost/polygon/voronoi.hpp>

#include <cmath>

// Boost's Voronoi builder works in doubles, tracks their rounding error and, past a limit, computes again with integers
// of 2,048 bits. Lettering is full of parallel, collinear and symmetrical edges, so that it nearly always does: 50 µs a
// segment. These traits give it 64-bit mantissas and no such second look: a twentieth of the time. What little the last
// bits can disturb, a tiny edge where several meet, does not matter to widths, which are checked against the boundary
// afterwards.

namespace boost::polygon::detail {

template <> class robust_fpt<long double> {
public:
    using floating_point_type = long double;
    using relative_error_type = long double;

    robust_fpt() = default;
    explicit robust_fpt(long double value, long double /*error*/ = 0) : value_(value) {}

    [[nodiscard]] long double fpv() const { return value_; }
    [[nodiscard]] long double re() const { return 0; }
    [[nodiscard]] long double ulp() const { return 0; }
    [[nodiscard]] bool has_pos_value() const { return value_ > 0; }
    [[nodiscard]] bool has_neg_value() const { return value_ < 0; }
    [[nodiscard]] bool has_zero_value() const { return value_ == 0; }

    robust_fpt operator-() const { return robust_fpt(-value_); }
    robust_fpt& operator+=(const robust_fpt& that) { return value_ += that.value_, *this; }
    robust_fpt& operator-=(const robust_fpt& that) { return value_ -= that.value_, *this; }
    robust_fpt& operator*=(const robust_fpt& that) { return value_ *= that.value_, *this; }
    robust_fpt& operator/=(const robust_fpt& that) { return value_ /= that.value_, *this; }
    robust_fpt operator+(const robust_fpt& that) const { return robust_fpt(value_ + that.value_); }
    robust_fpt operator-(const robust_fpt& that) const { return robust_fpt(value_ - that.value_); }
    robust_fpt operator*(const robust_fpt& that) const { return robust_fpt(value_ * that.value_); }
    robust_fpt operator/(const robust_fpt& that) const { return robust_fpt(value_ / that.value_); }
    [[nodiscard]] robust_fpt sqrt() const { return robust_fpt(value_ > 0 ? std::sqrt(value_) : 0.0L); }

private:
    long double value_ = 0;
};

} // namespace boost::polygon::detail

namespace touchmark::geometry {

struct LongConverter {
    template <class T> long double operator()(const T& value) const { return static_cast<long double>(value); }
    template <std::size_t N> long double operator()(const boost::polygon::detail::extended_int<N>& value) const {
        return value.d();
    }
    template <class T> long double operator()(const boost::polygon::detail::extended_exponent_fpt<T>& value) const {
        return value.d();
    }
};

/// Equal within as many units in the last place of a double.
struct LongComparison {
    enum Result { LESS = -1, EQUAL = 0, MORE = 1 };
    Result operator()(long double a, long double b, unsigned ulps) const {
        const long double difference = a - b, size = std::max(std::abs(a), std::abs(b));
        if (std::abs(difference) <= size * ulps * 0x1p-52L) return EQUAL;
        return difference < 0 ? LESS : MORE;
    }
};

struct VoronoiTraits {
    using int_type = boost::polygon::detail::int32;
    using int_x2_type = boost::polygon::detail::int64;
    using uint_x2_type = boost::polygon::detail::uint64;
    using big_int_type = boost::polygon::detail::extended_int<64>;
    using fpt_type = long double;
    using efpt_type = boost::polygon::detail::extended_exponent_fpt<boost::polygon::detail::fpt64>;
    using ulp_cmp_type = LongComparison;
    using to_fpt_converter_type = LongConverter;
    using to_efpt_converter_type = boost::polygon::detail::type_converter_efpt;
};

using VoronoiBuilder = boost::polygon::voronoi_builder<boost::polygon::detail::int32, VoronoiTraits,
                                                       boost::polygon::detail::voronoi_predicates<VoronoiTraits>>;

} // namespace touchmark::geometry
