// SPDX-License-Identifier: MIT
#include "core/geometry/contacts.h"

#include "core/geometry/bezier.h"
#include "core/geometry/box_tree.h"

#include <cmath>

namespace touchmark::geometry {
namespace {

constexpr std::size_t most_pieces = 1'000'000, most_pairs = 60'000'000, most_contacts = 400'000;

/// A stretch of one segment, short enough that its chord is near it.
struct Piece {
    Segment curve;
    double error = 0;  ///< of the chord
    double along = 0;  ///< arc length from the contour's start, by chords
    double extent = 0; ///< chord length
    std::uint32_t contour = 0, index = 0, segment = 0;
};

struct Found {
    Vec2 at;
    bool crosses = false;
};

class Finder {
public:
    Finder(std::span<const Contour> contours, double resolution, double reach)
        : resolution_(resolution), reach_(reach * resolution), fold_(2 / reach) {
        for (std::uint32_t i = 0; i < contours.size() && pieces_.size() <= most_pieces; ++i) {
            const Box2 box = geometry::bounds(contours[i]);
            add(contours[i], i, std::max(resolution, 3e-3 * std::max(box.width(), box.height())));
        }
    }

    std::optional<std::vector<Contact>> run() {
        if (pieces_.size() > most_pieces) return std::nullopt;
        std::vector<Box2> boxes;
        boxes.reserve(pieces_.size());
        for (const Piece& piece : pieces_)
            boxes.push_back(hull_box(piece.curve).widened(resolution_ * 0.5));
        std::size_t pairs = 0;
        const bool finished = BoxTree(boxes).pairs([&](std::uint32_t i, std::uint32_t j) {
            examine(pieces_[i], pieces_[j]);
            return ++pairs <= most_pairs && contacts_.size() <= most_contacts && crossings_ <= most_crossings;
        });
        if (!finished) return std::nullopt;
        return std::move(contacts_);
    }

private:
    void add(const Contour& contour, std::uint32_t number, double tolerance) {
        std::uint32_t index = 0;
        double along = 0;
        for (std::uint32_t s = 0; s < contour.segments.size(); ++s) {
            const Segment& segment = contour.segments[s];
            const int count = pieces_within(segment, tolerance);
            Segment rest = segment;
            for (int i = 0; i < count; ++i) {
                Segment curve = rest;
                if (i + 1 < count) {
                    const auto parts = split(rest, 1.0 / (count - i));
                    curve = parts[0];
                    rest = parts[1];
                }
                const double extent = distance(curve.start(), curve.end());
                pieces_.push_back({curve, chord_error(curve), along, extent, number, index++, s});
                along += extent;
            }
        }
        piece_counts_.push_back(index);
        lengths_.push_back(along);
    }

    /// Arc length between two places of one contour, the short way round; infinite between contours.
    double apart(const Piece& a, Vec2 pa, const Piece& b, Vec2 pb) const {
        if (a.contour != b.contour) return std::numeric_limits<double>::infinity();
        const double between =
            std::abs(a.along + distance(a.curve.start(), pa) - b.along - distance(b.curve.start(), pb));
        return std::min(between, lengths_[a.contour] - between);
    }

    void examine(const Piece& a, const Piece& b) {
        std::optional<Found> found;
        const std::uint32_t count = piece_counts_[a.contour];
        if (a.contour == b.contour && (a.index + 1) % count == b.index % count)
            found = a.segment == b.segment && count > 2 ? std::nullopt : joined(a, b);
        else if (a.contour == b.contour && (b.index + 1) % count == a.index % count)
            found = a.segment == b.segment && count > 2 ? std::nullopt : joined(b, a);
        else
            found = near(a, a.curve, b, b.curve);
        if (!found) return;
        contacts_.push_back({a.contour, b.contour, found->at, found->crosses});
        crossings_ += found->crosses ? 1 : 0;
    }

    std::optional<Found> near(const Piece& a, const Segment& p, const Piece& b, const Segment& q) const {
        const double error_p = chord_error(p), error_q = chord_error(q);
        const Approach closest = approach(p.start(), p.end(), q.start(), q.end());
        if (closest.distance > resolution_ + error_p + error_q) return std::nullopt;
        if (error_p + error_q <= resolution_ / 4) {
            if (closest.distance >= resolution_) return std::nullopt;
            const bool corner = !closest.crosses && apart(a, closest.on_a, b, closest.on_b) < reach_;
            if (corner) return std::nullopt;
            return Found{(closest.on_a + closest.on_b) * 0.5, closest.crosses};
        }
        const bool first = error_p >= error_q;
        const auto halves = split(first ? p : q, 0.5);
        for (const Segment& half : halves)
            if (auto found = first ? near(a, half, b, q) : near(a, p, b, half)) return found;
        return std::nullopt;
    }

    /// Whether a direction exists that all legs of both control polygons follow: then points of the two are as far
    /// apart along it as `least` times the way between them along the curves, and they meet at their joint alone.
    bool go_on_together(const Segment& p, const Segment& q) const {
        constexpr double least = 0.2;
        if (least * reach_ < resolution_) return false;
        const Vec2 back = leg(p, p.degree - 1), on = leg(q, 0);
        const double size_back = length(back), size_on = length(on);
        if (size_back == 0 || size_on == 0) return false;
        const Vec2 way = back * (1 / size_back) + on * (1 / size_on);
        const double enough = least * least * dot(way, way);
        const auto follows = [&](const Segment& segment) {
            for (int k = 0; k < segment.degree; ++k) {
                const Vec2 step = leg(segment, k);
                const double along = dot(step, way);
                if (along <= 0 || along * along < enough * dot(step, step)) return false;
            }
            return true;
        };
        return follows(p) && follows(q);
    }
    static Vec2 leg(const Segment& segment, int k) {
        const auto i = static_cast<std::size_t>(k);
        return segment.points[i + 1] - segment.points[i];
    }

    /// `b` starts where `a` ends.
    std::optional<Found> joined(const Piece& a, const Piece& b) const {
        if (go_on_together(a.curve, b.curve)) return std::nullopt;
        const Vec2 joint = b.curve.start();
        Segment p = a.curve, q = b.curve;
        while (p.degree > 1 || q.degree > 1) {
            if (chord_error(p) + chord_error(q) < resolution_ / 8) break;
            auto left = split(p, 0.5), right = split(q, 0.5);
            for (const auto& [m, n] : {std::pair{left[0], right[0]}, {left[0], right[1]}, {left[1], right[1]}})
                if (auto found = near(a, m, b, n)) return found;
            p = left[1];
            q = right[0];
        }
        const Vec2 back = p.start() - joint, on = q.end() - joint;
        if (dot(back, on) > 0 && std::abs(cross(back, on)) < fold_ * length(back) * length(on))
            return Found{joint, false};
        return std::nullopt;
    }

    double resolution_, reach_;
    double fold_; ///< sine of the corner below which it counts as folded back onto itself
    std::vector<Piece> pieces_;
    std::vector<std::uint32_t> piece_counts_;
    std::vector<double> lengths_;
    std::vector<Contact> contacts_;
    std::size_t crossings_ = 0;
};

} // namespace

std::optional<std::vector<Contact>> contacts(std::span<const Contour> contours, double resolution, double reach) {
    return Finder(contours, resolution, reach).run();
}

} // namespace touchmark::geometry
