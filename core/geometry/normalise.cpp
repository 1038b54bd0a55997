// SPDX-License-Identifier: MIT
#include "core/geometry/bezier.h"
#include "core/geometry/contacts.h"
#include "core/geometry/nesting.h"
#include "core/geometry/unite.h"

#include <cmath>
#include <numeric>

namespace touchmark::geometry {
namespace {

constexpr std::size_t most_segments = 400'000;
/// Curves are kept in the first rounds; the later ones give them up where they still touch.
constexpr int curve_rounds = 3, rounds = 6;
/// Cut of corners that meet at a point, mm, in the first round; it doubles with each.
constexpr double bridge = 0.005;

struct Clusters {
    std::vector<std::size_t> of; ///< for each contour, the first contour of its cluster
    std::vector<bool> touched;   ///< for each contour: has contacts
};

Clusters clusters_of(std::size_t count, const std::vector<Contact>& contacts) {
    Clusters clusters{std::vector<std::size_t>(count), std::vector<bool>(count, false)};
    std::iota(clusters.of.begin(), clusters.of.end(), std::size_t{0});
    auto root = [&](std::size_t i) {
        while (clusters.of[i] != i)
            i = clusters.of[i] = clusters.of[clusters.of[i]];
        return i;
    };
    for (const Contact& contact : contacts) {
        clusters.touched[contact.contour_a] = clusters.touched[contact.contour_b] = true;
        const std::size_t a = root(contact.contour_a), b = root(contact.contour_b);
        clusters.of[std::max(a, b)] = std::min(a, b);
    }
    for (std::size_t i = 0; i < count; ++i)
        clusters.of[i] = root(i);
    return clusters;
}

bool filled(int winding, FillRule rule) {
    return rule == FillRule::nonzero ? winding != 0 : (winding & 1) != 0;
}

bool finite(const Contour& contour) {
    for (const Segment& segment : contour.segments)
        for (int i = 0; i <= segment.degree; ++i) {
            const Vec2 p = segment.points[static_cast<std::size_t>(i)];
            if (!(std::abs(p.x) < 1e9 && std::abs(p.y) < 1e9)) return false;
        }
    return true;
}

/// Segments without length go, curves folded onto a line become lines, curves with a loop are cut within it.
Contour cleaned(const Contour& contour, double resolution) {
    std::vector<Segment> out;
    for (const Segment& segment : contour.segments) {
        if (control_length(segment) < resolution) {
            continue;
        } else if (const auto loop = loop_of(segment); loop && *loop != std::pair{0.0, 1.0}) {
            for (const Segment& half : split(segment, (loop->first + loop->second) / 2))
                out.push_back(half);
        } else {
            for (const Segment& part : unfolded(segment))
                out.push_back(part);
        }
    }
    for (std::size_t i = 0; i < out.size(); ++i) {
        const Segment& next = out[(i + 1) % out.size()];
        if (!(out[i].end() == next.start())) out[i] = with_ends(out[i], out[i].start(), next.start());
    }
    if (out.size() == 1 && out[0].degree == 1) out.clear();
    return {std::move(out)};
}

bool sliver(const Contour& contour, double resolution) {
    if (contour.segments.empty()) return true;
    double perimeter = 0;
    for (const Segment& segment : contour.segments)
        perimeter += control_length(segment);
    return std::abs(area(contour)) <= perimeter / 2 * resolution;
}

class Normaliser {
public:
    Normaliser(std::vector<Contour> contours, const NormaliseOptions& options)
        : contours_(std::move(contours)), options_(options) {}

    Result<Outline> run() {
        if (const auto error = prepare()) return std::unexpected(*error);
        fill_ = options_.fill;
        for (int round = 0; round == 0 || !contacts_.empty(); ++round) {
            if (round == rounds || !step(round)) return too_complex();
            fill_ = FillRule::nonzero;
        }
        return nested(std::move(contours_));
    }

private:
    static std::unexpected<Error> too_complex() {
        return fail("geometry.too_complex", "The outline crosses itself more often than can be worked out.",
                    "Simplify the drawing, or use other lettering.");
    }

    std::optional<Error> prepare() {
        std::size_t segments = 0;
        std::vector<Contour> clean;
        for (const Contour& contour : contours_) {
            if (!finite(contour))
                return Error{"geometry.not_finite",
                             "The outline has a coordinate that is not a number or far too large.",
                             "Export the drawing again, or use another font."};
            segments += contour.segments.size();
            Contour tidy = cleaned(contour, options_.resolution);
            if (!tidy.segments.empty()) clean.push_back(std::move(tidy));
        }
        if (segments > most_segments) return too_complex().error();
        contours_ = std::move(clean);
        Box2 extent;
        for (const Contour& contour : contours_)
            extent.add(bounds(contour));
        // Double arithmetic holds its promises down to about here, and polygons of huge curves stay small.
        const double size = std::max(extent.width(), extent.height());
        options_.resolution = std::max(options_.resolution, 1e-9 * size);
        options_.tolerance = std::max(options_.tolerance, 2e-6 * size);
        if (!find_contacts(options_.resolution)) return too_complex().error();
        return std::nullopt;
    }

    bool find_contacts(double resolution, double reach = corner_reach) {
        auto found = contacts(contours_, resolution, reach);
        if (!found) return false;
        contacts_ = std::move(*found);
        return true;
    }

    /// Unites what touches.
    bool step(int round) {
        const Clusters clusters = clusters_of(contours_.size(), contacts_);
        const std::vector<int> backgrounds = backgrounds_of(clusters);
        std::vector<Contour> result;
        std::vector<std::vector<std::size_t>> members(contours_.size());
        for (std::size_t i = 0; i < contours_.size(); ++i)
            members[clusters.of[i]].push_back(i);
        for (std::size_t i = 0; i < contours_.size(); ++i) {
            if (members[i].empty()) continue;
            if (!clusters.touched[i]) {
                keep_single(contours_[i], backgrounds[i], result);
                continue;
            }
            std::vector<Contour> group;
            for (const std::size_t k : members[i])
                group.push_back(std::move(contours_[k]));
            auto united = unite(group, {.fill = fill_,
                                        .background = backgrounds[i],
                                        .resolution = options_.resolution,
                                        .tolerance = options_.tolerance / 4,
                                        .keep_curves = round < curve_rounds,
                                        .bridge = bridge * std::exp2(round)});
            if (!united) return false;
            for (Contour& contour : *united)
                if (!sliver(contour, options_.resolution)) result.push_back(std::move(contour));
        }
        contours_ = std::move(result);
        // Lines keep their distance by construction, so that what is still close together is a very sharp corner.
        return find_contacts(options_.resolution / 2, round < curve_rounds ? corner_reach : 100 * corner_reach);
    }

    /// For each cluster, at the index of its first contour: the winding number of all others around it.
    std::vector<int> backgrounds_of(const Clusters& clusters) const {
        const WindingField field(contours_);
        std::vector<int> backgrounds(contours_.size(), 0);
        for (std::size_t i = 0; i < contours_.size(); ++i)
            if (clusters.of[i] == i)
                backgrounds[i] = field.around(contours_[i].segments.front().start(),
                                              [&](std::size_t k) { return clusters.of[k] == i; });
        return backgrounds;
    }

    void keep_single(Contour& contour, int background, std::vector<Contour>& result) const {
        if (sliver(contour, options_.resolution)) return;
        const int inside = background + (area(contour) > 0 ? 1 : -1);
        if (filled(background, fill_) == filled(inside, fill_)) return;
        const bool outer = filled(inside, fill_);
        result.push_back((area(contour) > 0) == outer ? std::move(contour) : reversed(contour));
    }

    std::vector<Contour> contours_;
    std::vector<Contact> contacts_;
    NormaliseOptions options_;
    FillRule fill_ = FillRule::nonzero;
};

} // namespace

Result<Outline> outline_from(std::vector<Contour> contours, const NormaliseOptions& options) {
    return Normaliser(std::move(contours), options).run();
}

} // namespace touchmark::geometry
