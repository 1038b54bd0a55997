// SPDX-License-Identifier: MIT
#include "core/content/arcs.h"
#include "core/content/drawing.h"
#include "core/content/dxf_curves.h"
#include "core/content/dxf_loops.h"
#include "core/content/stroke.h"

#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <numbers>
#include <set>
#include <sstream>

namespace touchmark::content {
namespace {

using dxf::Line;
using geometry::Affine;
using geometry::Segment;

constexpr std::size_t most_segments = 400'000;
constexpr std::size_t most_inserts = 10'000; // each repetition counted
constexpr int deepest_insert = 32;
constexpr double largest_coordinate = 1e7; // mm
constexpr double radians = std::numbers::pi / 180;

struct Insert {
    std::string block;
    Affine map;
};

struct Block {
    Vec2 base;
    std::vector<Line> lines;
    std::vector<Insert> inserts;
};

/// $INSUNITS in millimetres (DXF reference, header variables); 0: the file does not say.
double unit_of(int code) {
    constexpr double lengths[] = {0,       25.4,  304.8, 1609344, 1,    10,  1000, 1e6, 25.4e-6,
                                  25.4e-3, 914.4, 1e-7,  1e-6,    1e-3, 100, 1e4,  1e5, 1e12};
    return code >= 0 && code < static_cast<int>(std::size(lengths)) ? lengths[code] : 0;
}

Affine scaled(double sx, double sy) {
    return {sx, 0, 0, sy, {}};
}

/// Hears the library.
class Collector : public DL_CreationAdapter {
public:
    Block model;
    std::map<std::string, Block, std::less<>> blocks;
    std::vector<Note> notes;
    int units = 0;
    std::size_t segments = 0;
    bool too_much = false;

    void setVariableInt(const std::string& key, int value, int) override {
        if (key == "$INSUNITS") units = value;
    }
    void addLayer(const DL_LayerData& layer) override {
        if (layer.flags & 1 || getAttributes().getColor() < 0) hidden_.insert(layer.name);
    }
    void addBlock(const DL_BlockData& data) override {
        finish();
        current_ = &blocks[data.name];
        current_->base = {data.bpx, data.bpy};
    }
    void endBlock() override {
        finish();
        current_ = &model;
    }
    void addLine(const DL_LineData& d) override { add({{Segment::line({d.x1, d.y1}, {d.x2, d.y2})}, false}); }
    void addArc(const DL_ArcData& d) override {
        double sweep = std::fmod(d.angle2 - d.angle1, 360.0);
        if (sweep <= 0) sweep += 360;
        round({d.cx, d.cy}, {d.radius, 0}, 1, d.angle1 * radians, sweep * radians);
    }
    void addCircle(const DL_CircleData& d) override { round({d.cx, d.cy}, {d.radius, 0}, 1, 0, 2 * std::numbers::pi); }
    void addEllipse(const DL_EllipseData& d) override {
        double sweep = std::fmod(d.angle2 - d.angle1, 2 * std::numbers::pi);
        if (sweep <= 1e-12) sweep += 2 * std::numbers::pi;
        round({d.cx, d.cy}, {d.mx, d.my}, d.ratio, d.angle1, sweep);
    }
    void addPolyline(const DL_PolylineData& d) override {
        finish();
        // 16 and 64: meshes; 8: in space.
        if (d.flags & (16 | 64)) return note("meshes");
        polyline_ = true;
        closed_ = d.flags & 1;
        layer_ = getAttributes().getLayer();
        weight_ = weight();
    }
    void addVertex(const DL_VertexData& d) override {
        if (polyline_) vertices_.push_back({{d.x, d.y}, d.bulge});
    }
    void addSpline(const DL_SplineData& d) override {
        finish();
        spline_.emplace();
        spline_->degree = static_cast<int>(std::min(d.degree, 100u));
        spline_->closed = (d.flags & 1) != 0;
        layer_ = getAttributes().getLayer();
        weight_ = weight();
    }
    void addControlPoint(const DL_ControlPointData& d) override {
        if (!spline_) return;
        spline_->points.push_back({d.x, d.y});
        spline_->weights.push_back(d.w);
    }
    void addKnot(const DL_KnotData& d) override {
        if (spline_) spline_->knots.push_back(d.k);
    }
    void addFitPoint(const DL_FitPointData& d) override {
        if (spline_) spline_->through.push_back({d.x, d.y});
    }
    void endEntity() override { finish(); }
    void endSequence() override { finish(); }
    void addInsert(const DL_InsertData& d) override {
        finish();
        if (hidden()) return;
        if (d.cols < 0 || d.rows < 0 || d.cols > 10'000 || d.rows > 10'000) {
            too_much = true;
            return;
        }
        for (int row = 0; row < std::max(d.rows, 1); ++row)
            for (int column = 0; column < std::max(d.cols, 1); ++column) {
                if (++inserts_ > most_inserts) too_much = true;
                if (too_much) return;
                const Affine place = Affine::translation({d.ipx, d.ipy}) * Affine::rotation(d.angle * radians) *
                                     Affine::translation({column * d.colSp, row * d.rowSp}) * scaled(d.sx, d.sy);
                current_->inserts.push_back({d.name, flip() * place});
            }
    }
    void addSolid(const DL_SolidData& d) override { quad(d, 3); }
    void addTrace(const DL_TraceData& d) override { quad(d, 3); }
    void add3dFace(const DL_3dFaceData& d) override { quad(d, 2); }
    void addPoint(const DL_PointData&) override { note("points"); }
    void addXLine(const DL_XLineData&) override { note("construction lines"); }
    void addRay(const DL_RayData&) override { note("construction lines"); }
    void addText(const DL_TextData&) override { note("text"); }
    void addMText(const DL_MTextData&) override { note("text"); }
    void addAttribute(const DL_AttributeData&) override { note("text"); }
    void addArcAlignedText(const DL_ArcAlignedTextData&) override { note("text"); }
    void addDimAlign(const DL_DimensionData&, const DL_DimAlignedData&) override { note("dimensions"); }
    void addDimLinear(const DL_DimensionData&, const DL_DimLinearData&) override { note("dimensions"); }
    void addDimRadial(const DL_DimensionData&, const DL_DimRadialData&) override { note("dimensions"); }
    void addDimDiametric(const DL_DimensionData&, const DL_DimDiametricData&) override { note("dimensions"); }
    void addDimAngular(const DL_DimensionData&, const DL_DimAngular2LData&) override { note("dimensions"); }
    void addDimAngular3P(const DL_DimensionData&, const DL_DimAngular3PData&) override { note("dimensions"); }
    void addDimOrdinate(const DL_DimensionData&, const DL_DimOrdinateData&) override { note("dimensions"); }
    void addLeader(const DL_LeaderData&) override { note("leaders"); }
    void addHatch(const DL_HatchData&) override { note("hatches; their edges count where they are drawn as lines"); }
    void addImage(const DL_ImageData&) override { note("pictures"); }

    void finish() {
        if (spline_) {
            dxf::Spline spline = *std::move(spline_);
            spline_.reset();
            Box2 box;
            for (const Vec2 p : spline.points)
                box.add(p);
            auto made = dxf::segments_of(spline, std::max(1e-6 * (box.empty() ? 1 : box.width() + box.height()), 1e-9));
            if (made.empty())
                note("splines whose knots and points do not fit");
            else
                add({std::move(made), false, weight_}, layer_);
        }
        if (polyline_) {
            polyline_ = false;
            Line line{{}, closed_, weight_};
            const std::size_t sides = vertices_.empty() ? 0 : vertices_.size() - (closed_ ? 0 : 1);
            for (std::size_t i = 0; i < sides; ++i)
                for (const Segment& segment :
                     dxf::side(vertices_[i].first, vertices_[(i + 1) % vertices_.size()].first, vertices_[i].second))
                    line.segments.push_back(segment);
            vertices_.clear();
            if (!line.segments.empty()) add(std::move(line), layer_);
        }
    }

private:
    void note(std::string what) {
        finish();
        if (!hidden()) count_note(notes, std::move(what));
    }
    [[nodiscard]] bool hidden() { return hidden_.contains(getAttributes().getLayer()); }
    /// Entities drawn from below are mirrored (arbitrary axis algorithm for the direction 0, 0, -1).
    [[nodiscard]] Affine flip() {
        double direction[3] = {0, 0, 1};
        if (DL_Extrusion* from = getExtrusion()) from->getDirection(direction);
        if (direction[2] < -0.999) return scaled(-1, 1);
        if (direction[2] < 0.999) count_note(notes, "shapes that stand askew in space, seen from above", false);
        return {};
    }
    /// Hundredths of a millimetre; negative: by the layer or the block, or none in particular.
    [[nodiscard]] double weight() { return std::max(getAttributes().getWidth(), 0) / 100.0; }
    void add(Line line) {
        line.weight = weight();
        add(std::move(line), getAttributes().getLayer());
    }
    void add(Line line, const std::string& layer) {
        if (hidden_.contains(layer)) return;
        segments += line.segments.size();
        if (segments > most_segments) too_much = true;
        if (too_much) return;
        if (line.weight > 0 && line.closed) count_note(notes, "line weights of closed shapes, which are filled", false);
        const Affine map = flip();
        for (Segment& segment : line.segments)
            for (Vec2& p : segment.points)
                p = map(p);
        current_->lines.push_back(std::move(line));
    }
    void round(Vec2 centre, Vec2 major, double ratio, double from, double sweep) {
        finish();
        const bool whole = std::abs(sweep - 2 * std::numbers::pi) < 1e-9;
        const Affine map{major.x, -major.y * ratio, major.y, major.x * ratio, centre};
        Line line{arc(from, sweep, map), whole};
        if (whole) line.segments.back().points[3] = line.segments.front().start();
        add(std::move(line));
    }
    void quad(const DL_TraceData& d, std::size_t third) {
        finish();
        const std::size_t order[] = {0, 1, third, third == 3 ? 2u : 3u};
        std::vector<Vec2> corners;
        for (const std::size_t i : order)
            if (const Vec2 p{d.x[i], d.y[i]}; corners.empty() || !(p == corners.back())) corners.push_back(p);
        if (corners.size() > 1 && corners.front() == corners.back()) corners.pop_back();
        if (corners.size() > 2) add({geometry::contour_of(corners).segments, true});
    }

    Block* current_ = &model;
    std::set<std::string> hidden_;
    bool polyline_ = false, closed_ = false;
    std::string layer_;
    double weight_ = 0;
    std::vector<std::pair<Vec2, double>> vertices_;
    std::optional<dxf::Spline> spline_;
    std::size_t inserts_ = 0;
};

Error too_complex() {
    return {"content.art_too_complex", "The drawing has too many elements, or repeats its blocks too often.",
            "Simplify it in a drawing program."};
}

/// Inserts resolved, in millimetres.
struct Flattener {
    const Collector& from;
    std::vector<Line> lines;
    std::size_t inserts = 0, segments = 0;
    std::vector<Note> notes;

    Status add(const Block& block, const Affine& map, int depth) {
        if (depth > deepest_insert || ++inserts > most_inserts) return std::unexpected(too_complex());
        for (Line line : block.lines) {
            segments += line.segments.size();
            if (segments > most_segments) return std::unexpected(too_complex());
            for (Segment& segment : line.segments)
                for (int i = 0; i <= segment.degree; ++i) {
                    Vec2& p = segment.points[static_cast<std::size_t>(i)];
                    p = map(p);
                    if (!(std::abs(p.x) < largest_coordinate && std::abs(p.y) < largest_coordinate))
                        return fail("content.art_huge", "The drawing has a point further out than 10 km.",
                                    "Check the file and its unit in a drawing program.");
                }
            lines.push_back(std::move(line));
        }
        for (const Insert& insert : block.inserts) {
            const auto found = from.blocks.find(insert.block);
            if (found == from.blocks.end()) {
                count_note(notes, "blocks that are not in the file");
                continue;
            }
            const Affine inside = map * insert.map * Affine::translation(found->second.base * -1.0);
            if (const Status added = add(found->second, inside, depth + 1); !added) return added;
        }
        return {};
    }
};

/// Takes the next line, without its end.
std::string_view take_line(std::string_view& rest) {
    const auto end = rest.find('\n');
    std::string_view one = rest.substr(0, end);
    rest = end == rest.npos ? std::string_view() : rest.substr(end + 1);
    while (!one.empty() && (one.back() == '\r' || one.back() == ' '))
        one.remove_suffix(1);
    while (!one.empty() && one.front() == ' ')
        one.remove_prefix(1);
    return one;
}

/// Open lines with a line weight, as a plotter draws them: round at their ends and corners.
Status add_weighed(std::vector<Line> open, geometry::Outline& outline, std::vector<Note>& notes) {
    if (open.empty()) return {};
    std::vector<geometry::Contour> all;
    for (const Line& line : open) {
        const StrokeStyle pen{.width = line.weight,
                              .cap = LineCap::round,
                              .join = LineJoin::round,
                              .tolerance = std::max(1e-4, 1e-3 * line.weight)};
        auto drawn = stroked(line.segments.front().start(), line.segments, false, pen);
        if (!drawn) return std::unexpected(drawn.error());
        std::ranges::move(*drawn, std::back_inserter(all));
        count_note(notes, "open lines, drawn as wide as their line weight", false);
    }
    geometry::append_contours(outline, all);
    auto whole = one_shape(std::move(all));
    if (!whole) return std::unexpected(whole.error());
    outline = *std::move(whole);
    return {};
}

/// Widths of polylines (codes 40, 41 and 43 of a polyline and its vertices), which the library does not tell.
std::size_t polylines_with_width(std::string_view text) {
    std::size_t count = 0;
    bool polyline = false, counted = false;
    while (!text.empty()) {
        const std::string_view code = take_line(text), value = take_line(text);
        if (code == "0") {
            if (value != "VERTEX") counted = false;
            polyline = value == "LWPOLYLINE" || value == "POLYLINE" || value == "VERTEX";
        } else if (polyline && !counted && (code == "40" || code == "41" || code == "43") &&
                   std::strtod(std::string(value).c_str(), nullptr) > 0) {
            counted = true;
            ++count;
        }
    }
    return count;
}

/// The library makes room for as many vertices, knots and edges as a file states: the file has to be large enough to
/// hold them.
bool plausible(std::string_view text) {
    constexpr std::string_view counted[] = {"LWPOLYLINE", "SPLINE", "HATCH", "LEADER"};
    const auto lines = static_cast<double>(std::ranges::count(text, '\n')) + 1;
    if (lines < 2 || text.find('\0') != text.npos) return false;
    bool counts = false;
    while (!text.empty()) {
        const std::string_view code = take_line(text), value = take_line(text);
        if (code.size() > 2000 || value.size() > 2000) return false;
        if (code == "0") counts = std::ranges::find(counted, value) != std::end(counted);
        const bool is_count = code.size() == 2 && (code[0] == '7' || code[0] == '9') && code != "70";
        if (!counts || !is_count) continue;
        const double number = std::strtod(std::string(value).c_str(), nullptr);
        if (!(number >= 0 && number <= lines + 100)) return false;
    }
    return true;
}

} // namespace

Result<ReadDrawing> read_dxf(std::string_view text) {
    const auto malformed = [] {
        return fail("content.art_malformed", "The file is neither SVG nor a DXF drawing in text form.",
                    "Export it again, as SVG or as ASCII DXF.");
    };
    if (!plausible(text) || text.find("SECTION") == text.npos) return malformed();
    Collector collector;
    std::istringstream stream{std::string(text)};
    if (!DL_Dxf().in(stream, &collector)) return malformed();
    collector.finish();
    if (collector.too_much) return std::unexpected(too_complex());
    double unit = unit_of(collector.units);
    ReadDrawing read;
    read.notes = std::move(collector.notes);
    if (unit == 0) {
        unit = 1;
        read.notes.push_back({"sizes without a unit, taken as millimetres", 1, false});
    }
    Flattener flattener{.from = collector, .lines = {}, .notes = {}};
    if (const Status flat = flattener.add(collector.model, scaled(unit, unit), 0); !flat)
        return std::unexpected(flat.error());
    std::ranges::move(flattener.notes, std::back_inserter(read.notes));
    if (const std::size_t wide = polylines_with_width(text))
        read.notes.push_back({"widths of polylines, of which only what they enclose is marked", wide, true});
    dxf::Loops loops = dxf::loops(std::move(flattener.lines), read.notes);
    auto outline = one_shape(std::move(loops.closed), geometry::FillRule::evenodd);
    if (!outline) return std::unexpected(outline.error());
    read.outline = *std::move(outline);
    if (const Status drawn = add_weighed(std::move(loops.open), read.outline, read.notes); !drawn)
        return std::unexpected(drawn.error());
    return read;
}

} // namespace touchmark::content
