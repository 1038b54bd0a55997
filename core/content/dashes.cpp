// SPDX-License-Identifier: MIT
#include "core/content/dashes.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace touchmark::content {
namespace {

using geometry::Segment;

constexpr double no_length = 1e-5; ///< of a segment: short enough, and still a direction

/// Gauss and Legendre's rule of five points over [from, to].
double five_point(const Segment& s, double from, double to) {
    constexpr double at[] = {0, 0.5384693101056831, 0.9061798459386640};
    constexpr double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
    const double middle = (from + to) / 2, half = (to - from) / 2;
    const auto speed = [&](double t) { return length(derivative_at(s, t)); };
    double sum = weight[0] * speed(middle);
    for (int i = 1; i < 3; ++i)
        sum += weight[i] * (speed(middle - at[i] * half) + speed(middle + at[i] * half));
    return sum * half;
}

double length_between(const Segment& s, double from, double to, int depth = 0) {
    if (s.degree == 1) return length(s.end() - s.start()) * (to - from);
    const double middle = (from + to) / 2, whole = five_point(s, from, to);
    const double halves = five_point(s, from, middle) + five_point(s, middle, to);
    if (depth >= 12 || std::abs(halves - whole) <= 1e-7 * halves) return halves;
    return length_between(s, from, middle, depth + 1) + length_between(s, middle, to, depth + 1);
}

/// The parameter so far along the curve from `from`.
double parameter_at(const Segment& s, double from, double along) {
    double low = from, high = 1;
    double t = std::clamp(from + along / std::max(length_between(s, from, 1), 1e-300) * (1 - from), from, 1.0);
    for (int tries = 0; tries < 50 && s.degree > 1; ++tries) {
        const double miss = length_between(s, from, t) - along;
        if (std::abs(miss) <= 1e-7 * along) break;
        (miss > 0 ? high : low) = t;
        const double next = t - miss / std::max(length(derivative_at(s, t)), 1e-300);
        t = next > low && next < high ? next : (low + high) / 2;
    }
    return t;
}

Segment between(const Segment& s, double from, double to) {
    Segment part = s;
    if (to < 1) part = split(part, to)[0];
    if (from > 0) part = split(part, std::min(from / to, 1.0))[1];
    return part;
}

} // namespace

double length_of(const Segment& segment) {
    return length_between(segment, 0, 1);
}

std::optional<std::vector<Dash>> dashed(std::span<const Segment> segments, bool closed, const DashPattern& pattern,
                                        std::size_t most) {
    const double round = std::accumulate(pattern.lengths.begin(), pattern.lengths.end(), 0.0);
    double within = std::fmod(pattern.offset, round);
    if (within < 0) within += round;
    std::size_t step = 0;
    while (within >= pattern.lengths[step] && within > 0) {
        within -= pattern.lengths[step];
        step = (step + 1) % pattern.lengths.size();
    }
    const bool begins_drawn = step % 2 == 0;
    double left = pattern.lengths[step] - within; // of this step
    std::vector<Dash> dashes;
    bool open = false, broken = false;
    const auto take = [&](const Segment& piece) {
        if (!open) dashes.emplace_back();
        open = true;
        dashes.back().segments.push_back(piece);
    };
    for (const Segment& segment : segments) {
        double from = 0, rest = length_of(segment);
        if (!(rest > 0)) continue;
        while (true) {
            const bool drawn = step % 2 == 0, ends_here = left <= rest;
            const double to = !ends_here ? 1 : left < rest ? parameter_at(segment, from, left) : 1;
            if (drawn && (to > from || left == 0)) {
                // A dash without a length still has a direction, for its caps.
                const double hair = std::min(1.0, to + no_length);
                take(between(segment, to > from ? from : hair - no_length, to > from ? to : hair));
            }
            if (!ends_here) break;
            rest -= left;
            from = to;
            step = (step + 1) % pattern.lengths.size();
            left = pattern.lengths[step];
            open = false;
            broken = true;
            if (dashes.size() > most) return std::nullopt;
            if (!(rest > 0)) break;
        }
        left -= std::max(rest, 0.0);
    }
    if (closed && begins_drawn && open && !dashes.empty()) {
        if (!broken) {
            dashes.front().closed = true;
        } else if (dashes.size() > 1) {
            auto& last = dashes.back().segments;
            last.insert(last.end(), dashes.front().segments.begin(), dashes.front().segments.end());
            dashes.erase(dashes.begin());
        }
    }
    return dashes;
}

} // namespace touchmark::content
