// SPDX-License-Identifier: MIT
#include "core/content/dxf_loops.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace touchmark::content::dxf {
namespace {

using geometry::Contour;
using geometry::Segment;

/// Finds open lines by an end.
class Ends {
public:
    Ends(const std::vector<Line>& lines, double reach) : lines_(lines), reach_(reach) {
        for (std::size_t i = 0; i < lines.size(); ++i)
            for (const bool last : {false, true})
                cells_.emplace(cell(end(i, last), 0, 0), std::pair(i, last));
    }
    [[nodiscard]] Vec2 end(std::size_t line, bool last) const {
        return last ? lines_[line].segments.back().end() : lines_[line].segments.front().start();
    }
    /// The nearest end within reach of `p` of a line not yet used.
    [[nodiscard]] std::optional<std::pair<std::size_t, bool>> near(Vec2 p, const std::vector<bool>& used) const {
        std::optional<std::pair<std::size_t, bool>> best;
        double least = reach_;
        for (int dx = -1; dx <= 1; ++dx)
            for (int dy = -1; dy <= 1; ++dy) {
                const auto [begin, finish] = cells_.equal_range(cell(p, dx, dy));
                for (auto at = begin; at != finish; ++at) {
                    const auto [line, last] = at->second;
                    if (used[line]) continue;
                    if (const double d = distance(end(line, last), p); d <= least) least = d, best = at->second;
                }
            }
        return best;
    }

private:
    [[nodiscard]] std::uint64_t cell(Vec2 p, int dx, int dy) const {
        const auto along = [&](double x, int by) {
            return static_cast<std::uint64_t>(static_cast<std::int64_t>(std::floor(x / (2 * reach_))) + by);
        };
        return along(p.x, dx) * 0x9e3779b97f4a7c15ull + along(p.y, dy);
    }
    const std::vector<Line>& lines_;
    double reach_;
    std::unordered_multimap<std::uint64_t, std::pair<std::size_t, bool>> cells_;
};

void close(std::vector<Segment> segments, std::vector<Contour>& out) {
    for (std::size_t i = 0; i < segments.size(); ++i) {
        Segment& next = segments[(i + 1) % segments.size()];
        next.points[0] = segments[i].end();
    }
    out.push_back({std::move(segments)});
}

} // namespace

Loops loops(std::vector<Line> lines, std::vector<Note>& notes) {
    Loops out;
    std::vector<Line> open;
    Box2 extent;
    for (Line& line : lines) {
        std::erase_if(line.segments, [](const Segment& s) { return s.degree == 1 && s.start() == s.end(); });
        if (line.segments.empty()) continue;
        for (const Segment& segment : line.segments)
            extent.add(segment.start()), extent.add(segment.end());
        if (line.closed)
            close(std::move(line.segments), out.closed);
        else
            open.push_back(std::move(line));
    }
    // Ends that a drafter means to meet: 2e-5 of the drawing, at least a ten-thousandth of a millimetre.
    const double reach = std::max(1e-4, 2e-5 * std::max(extent.width(), extent.height()));
    const Ends ends(open, reach);
    std::vector<bool> used(open.size());
    for (std::size_t first = 0; first < open.size(); ++first) {
        if (used[first]) continue;
        used[first] = true;
        std::vector<Segment> chain = open[first].segments;
        const auto extend = [&] {
            while (distance(chain.front().start(), chain.back().end()) > reach) {
                const auto next = ends.near(chain.back().end(), used);
                if (!next) break;
                used[next->first] = true;
                const std::vector<Segment>& more = open[next->first].segments;
                if (next->second)
                    for (std::size_t i = more.size(); i-- > 0;)
                        chain.push_back(geometry::reversed(more[i]));
                else
                    chain.insert(chain.end(), more.begin(), more.end());
            }
            return distance(chain.front().start(), chain.back().end()) <= reach && chain.size() > 1;
        };
        bool closed = extend();
        if (!closed) { // grow at the other end
            std::ranges::reverse(chain);
            for (Segment& segment : chain)
                segment = geometry::reversed(segment);
            closed = extend();
        }
        if (closed || (chain.size() == 1 && chain[0].degree > 1 && chain[0].start() == chain[0].end()))
            close(std::move(chain), out.closed);
        else if (open[first].weight > 0)
            out.open.push_back({std::move(chain), false, open[first].weight});
        else
            count_note(notes, "open lines, which enclose nothing");
    }
    return out;
}

} // namespace touchmark::content::dxf
