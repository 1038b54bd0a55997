// SPDX-License-Identifier: MIT
#include "tests/core/rules/scene.h"

#include "core/rules/lookalikes.h"
#include "tests/support/reader.h"

#include <stdexcept>

namespace touchmark::test {
namespace {

/// Of a code one that is never set.
const content::Text& text_of(const job::Mark& mark) {
    static const content::Text none;
    const auto* text = std::get_if<content::Text>(&mark.content);
    return text ? *text : none;
}

content::ModulePlaces scaled(content::ModulePlaces code, double factor) {
    code.module_mm *= factor, code.quiet_mm *= factor;
    code.dark = code.dark * factor, code.light = code.light * factor;
    code.whole = {code.whole.low * factor, code.whole.high * factor};
    return code;
}

geometry::Outline rectangle(double width, double height) {
    const double x = width / 2, y = height / 2;
    const std::vector<Vec2> corners{{-x, -y}, {x, -y}, {x, y}, {-x, y}};
    return {{geometry::Region{geometry::contour_of(corners), {}}}};
}

std::shared_ptr<const content::FontLibrary> system_fonts() {
    static const auto fonts = content::FontLibrary::system();
    return fonts.value();
}

/// Compared once for all sizes.
std::shared_ptr<const std::vector<content::Lookalike>> compared(content::Text style, const std::string& characters) {
    static std::map<std::string, std::vector<content::Lookalike>> known;
    constexpr double height = 5;
    const double factor = style.cap_height.value / height;
    style.cap_height = Mm(height);
    auto& pairs = known[style.family + "|" + style.features + "|" + characters];
    if (pairs.empty()) pairs = content::lookalikes(style, characters, *system_fonts());
    std::vector<content::Lookalike> scaled = pairs;
    for (content::Lookalike& one : scaled)
        one.distinct *= factor;
    return std::make_shared<const std::vector<content::Lookalike>>(std::move(scaled));
}

} // namespace

process::Process profile(const std::string& id) {
    return process::load_process(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes" / (id + ".json")).value();
}

Scene::Scene(std::string id) : process(profile(id)), fonts(system_fonts()) {
    static const part::PartPtr bracket =
        read_part(std::filesystem::path(TOUCHMARK_RESOURCES) / "demo" / "sensor-bracket.step");
    part = bracket;
    meshes = part::tessellate(*part, part::Deflection{}, Progress()).value();
    job.process = std::move(id);
}

int Scene::face_towards(Vec3 normal) const {
    int best = -1;
    double area = 0;
    for (const part::Face& face : part->faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, normal) > 0.999 && face.area_mm2 > area)
            best = face.index, area = face.area_mm2;
    if (best < 0) throw std::runtime_error("the part has no such face");
    return best;
}

std::size_t Scene::add(Invented invented, int face, Vec2 at) {
    job::Mark mark = invented.mark;
    mark.anchor.face = face;
    mark.anchor.at = at;
    if (auto* text = std::get_if<content::Text>(&mark.content); text && text->text.empty()) text->text.assign(1, 'R');
    job = job::add_mark(std::move(job), std::move(mark)).value();
    invented.mark = job.marks.back();
    invented_[invented.mark.id] = std::move(invented);
    return job.marks.size() - 1;
}

std::size_t Scene::add_letter(double stroke, std::optional<double> gap) {
    Invented letter;
    letter.strokes = {narrow(stroke)};
    if (gap) letter.gaps = {narrow(*gap)};
    letter.pieces = {{"R", 0, 1, {}}};
    return add(std::move(letter), face_towards({0, -1, 0}));
}

rules::MarkView Scene::view(const job::Job& of, std::size_t index, rules::Need) const {
    const job::Mark& mark = of.marks[index];
    const Invented& was = invented_.at(mark.id);
    const content::Text &now = text_of(mark), &then = text_of(was.mark);
    const double scale = content::size_of(mark.content) / content::size_of(was.mark.content);
    rules::MarkView view;
    view.mark = &mark;
    view.said = mark.content;

    auto drawn = std::make_shared<content::Drawn>();
    drawn->outline = was.outline ? geometry::transformed(*was.outline, geometry::Affine::scale(scale))
                                 : rectangle(was.width_mm * scale, was.height_mm * scale);
    const bool held = mark.mode == Mode::through && mark.bridges == job::Bridging::automatic;
    if (was.counter && held)
        view.bridges.push_back({{0, 0}, mark.bridge_width.value > 0 ? mark.bridge_width.value : was.bridge_mm, 1});
    if (was.counter && !held)
        drawn->outline.regions[0].holes.push_back(
            geometry::reversed(rectangle(was.width_mm * scale / 2, was.height_mm * scale / 2).regions[0].outer));
    drawn->extent = geometry::bounds(drawn->outline);
    drawn->pieces = was.pieces;
    for (std::uint32_t piece = 0; piece < was.pieces.size(); ++piece)
        drawn->piece_of_region.insert(drawn->piece_of_region.end(), was.pieces[piece].region_count, piece);
    if (now.text == then.text && now.family == then.family) drawn->missing = was.missing;
    drawn->notes = was.notes;
    if (was.code) drawn->code = scaled(*was.code, scale);
    if (const auto* code = std::get_if<content::Code>(&mark.content); drawn->code && code && code->grooves > 0)
        drawn->code->groove_mm = drawn->code->module_mm / code->grooves * content::groove_share;
    drawn->cap_height = now.cap_height;
    drawn->face = {
        .family = now.family, .style = now.weight > then.weight ? "Bold" : "Book", .weight = now.weight, .file = {}};
    view.drawn = drawn;
    view.printed = was.printed;
    if (was.compared) view.lookalikes = compared(now, rules::characters_at_hand(mark, now));

    std::vector<geometry::Narrow> strokes = was.strokes, gaps = was.gaps;
    for (geometry::Narrow& stroke : strokes)
        stroke.width *= scale * (now.weight > then.weight ? was.heavier_strokes : 1);
    for (geometry::Narrow& gap : gaps) {
        gap.width *= scale;
        if (gap.region != gap.other_region) gap.width += now.letter_spacing.value - then.letter_spacing.value;
    }
    view.strokes = std::make_shared<const std::vector<geometry::Narrow>>(std::move(strokes));
    view.gaps = std::make_shared<const std::vector<geometry::Narrow>>(std::move(gaps));

    auto map = surface::map_face(*part, mark.anchor.face);
    if (!map) {
        view.trouble = map.error();
        return view;
    }
    view.map = (*map)->about(mark.anchor.at, mark.laying);
    const plate::Placement placement = plate::placement_of(of.pose, meshes);
    view.upward = placement.rows[2];
    view.up = placement.direction(view.map->normal({})).z;
    view.zone = plate::zone_at(placement, view.map->point(mark.anchor.at), view.map->normal({}), process);
    view.placed = geometry::transformed(drawn->outline, surface::placement(mark.anchor.at, mark.anchor.turn));
    view.placed_box = geometry::bounds(view.placed);
    view.margin = surface::margin(*view.map, view.placed);
    const double deeper = mark.depth.value - was.mark.depth.value;
    if (!was.no_far_side.empty() && mark.mode == Mode::through)
        view.no_far = Error{"imprint.blocked", was.no_far_side, ""};
    if (was.wall_mm && mark.mode != Mode::raise && mark.mode != Mode::through)
        view.wall = imprint::Obstacles::Wall{*was.wall_mm - deeper, mark.anchor.at, {}};
    if (mark.mode == Mode::raise) view.room_above = was.room_above_mm;
    return view;
}

std::optional<Vec2> Scene::shift_inward(const rules::MarkView& view, double wanted) const {
    return surface::shift_inward(*view.map, view.placed, wanted);
}

std::vector<plate::Standing> Scene::standings(Vec3 wall_normal) const {
    return plate::stand_with_side_wall(*part, meshes, wall_normal, job.pose, process);
}

std::vector<rules::Finding> Scene::findings(std::string_view rule, const job::Job& of) const {
    const plate::Placement placement = plate::placement_of(of.pose, meshes);
    rules::Context context{of,  *part, process, *fonts, meshes, {}, placement, plate::height_of(placement, meshes),
                           this};
    for (std::size_t mark = 0; mark < of.marks.size(); ++mark)
        context.marks.push_back(view(of, mark, rules::Need::wall));
    std::vector<rules::Finding> found = rules::judge(context);
    std::erase_if(found, [&](const rules::Finding& finding) { return finding.rule != rule; });
    return found;
}

} // namespace touchmark::test
