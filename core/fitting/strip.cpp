// SPDX-License-Identifier: MIT
#include "core/fitting/strip.h"

#include "core/fitting/layout.h"
#include "core/part/block_part.h"
#include "core/process/extrusion.h"
#include "core/surface/face_map.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace touchmark::fitting {
namespace {

/// Bars as a drawing: one for a stroke, two for a gap.
Result<content::Content> bars(const Item& item, const process::Process& process) {
    const bool gap = item.kind == Kind::gap;
    const double high = bar_length_mm(process), bar = gap ? bar_width_mm(process) : item.size_mm;
    const double wide = gap ? 2 * bar + item.size_mm : bar;
    const auto rectangle = [&](double x) {
        return "<rect x=\"" + short_number(x) + "\" y=\"0\" width=\"" + short_number(bar) + "\" height=\"" +
               short_number(high) + "\"/>";
    };
    const std::string size = short_number(wide), tall = short_number(high);
    std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + size + "mm\" height=\"" + tall +
                      "mm\" viewBox=\"0 0 " + size + ' ' + tall + "\">" + rectangle(0);
    if (gap) svg += rectangle(bar + item.size_mm);
    return content::art_from(item.name + ".svg", svg + "</svg>");
}

Result<content::Content> content_of(const Placed& placed, const process::Process& process) {
    if (!placed.item) {
        content::Text text;
        text.text = placed.text;
        text.cap_height = Mm(placed.cap_mm);
        return text;
    }
    const Item& item = *placed.item;
    if (item.kind == Kind::text) {
        content::Text text;
        text.text = said_on(item);
        text.cap_height = Mm(item.size_mm);
        return text;
    }
    if (item.kind != Kind::code) return bars(item, process);
    content::Code code;
    code.symbology = item.symbology;
    code.message = said_on(item);
    code.module = Mm(item.size_mm);
    return code;
}

/// Flat faces of the blank with their maps, found by a point on them.
class Faces {
public:
    explicit Faces(const part::Part& part) : part_(part) {}

    Result<job::Anchor> anchor(const Spot& spot) {
        for (const part::Face& face : part_.faces()) {
            constexpr double near = 1e-6;
            if (dot(face.frame.z, spot.normal()) < 1 - near) continue;
            if (std::abs(dot(spot.at - face.centroid, face.frame.z)) > near || !within(face.box, spot.at)) continue;
            auto map = map_of(face.index);
            if (!map) return std::unexpected(map.error());
            job::Anchor anchor{face.index, face.fingerprint, (*map)->locate(spot.at), {}};
            const Vec3 x = (*map)->x_direction(anchor.at), y = cross((*map)->normal(anchor.at), x);
            anchor.turn = Degrees::from_radians(std::atan2(dot(spot.along, y), dot(spot.along, x)));
            return anchor;
        }
        return fail("fitting.no_face", "The test strip has no face where a mark belongs.");
    }

private:
    static bool within(const Box3& box, Vec3 p) {
        constexpr double near = 1e-6;
        return p.x >= box.low.x - near && p.x <= box.high.x + near && p.y >= box.low.y - near &&
               p.y <= box.high.y + near && p.z >= box.low.z - near && p.z <= box.high.z + near;
    }
    Result<surface::FaceMapPtr> map_of(int face) {
        if (const auto known = maps_.find(face); known != maps_.end()) return known->second;
        auto map = surface::map_face(part_, face);
        if (map) maps_.emplace(face, *map);
        return map;
    }

    const part::Part& part_;
    std::map<int, surface::FaceMapPtr> maps_;
};

Result<job::Mark> mark_of(const Placed& placed, const process::Process& process, Faces& faces) {
    job::Mark mark;
    auto content = content_of(placed, process);
    if (!content) return std::unexpected(content.error());
    mark.content = *std::move(content);
    mark.name = placed.item ? placed.item->name : "Label " + placed.text;
    mark.mode = placed.item ? placed.item->mode : Mode::engrave;
    const bool on_plate = placed.spot.normal().z < -0.5;
    mark.depth = Mm(relief_mm(process, on_plate ? Zone::bottom : Zone::top));
    if (mark.mode == Mode::hidden) {
        mark.depth = Mm(void_mm(process));
        mark.cover = Mm(cover_mm(process));
    }
    auto anchor = faces.anchor(placed.spot);
    if (!anchor) return std::unexpected(anchor.error());
    mark.anchor = *anchor;
    return mark;
}

} // namespace

std::string said_on(const Item& item) {
    if (item.kind == Kind::text) return "R8";
    return item.symbology == content::Symbology::qr ? "TOUCHMARK " + item.name : item.name;
}

Result<Strip> strip_for(const process::Process& process, const Progress& progress) {
    if (!process.printing) return std::unexpected(process::no_simulated_print(process));
    Strip out;
    const std::vector<Box3> blocks = blocks_of(process);
    for (const Box3& block : blocks)
        out.blank_mm3 += block.size().x * block.size().y * block.size().z;
    auto blank = part::block_part("Test strip " + process.id, blocks, progress);
    if (!blank) return std::unexpected(blank.error());
    out.blank = *std::move(blank);
    out.items = items_of(process);
    out.job.process = process.id;
    Faces faces(*out.blank);
    for (const Placed& one : placed(process, out.items)) {
        auto mark = mark_of(one, process, faces);
        if (!mark) return std::unexpected(mark.error());
        auto job = job::add_mark(std::move(out.job), *std::move(mark));
        if (!job) return std::unexpected(job.error());
        out.job = *std::move(job);
    }
    return out;
}

} // namespace touchmark::fitting
