// SPDX-License-Identifier: MIT
#include "core/pipeline/derivation.h"

#include "core/pipeline/bridged_drawing.h"
#include "core/pipeline/footprint.h"
#include "core/pipeline/lettering_widths.h"
#include "core/pipeline/printing.h"
#include "core/pipeline/worst_cases.h"
#include "core/rules/lookalikes.h"

namespace touchmark::pipeline {
namespace {

/// Makes a cache's maker of a function that cannot fail.
template <class T> Result<std::shared_ptr<const T>> kept(T value) {
    return std::make_shared<const T>(std::move(value));
}

Digester& add(Digester& digester, Vec3 v) {
    return digester.add(v.x).add(v.y).add(v.z);
}
Digester& add(Digester& digester, const plate::Pose& pose) {
    return add(digester, pose.down).add(pose.turn.value);
}

} // namespace

/// Fonts are known by their address: a library is made once and shared.
Digest content_key(const content::Content& content, const content::FontLibrary* fonts) {
    Digester digester;
    content::add(digester, content);
    return digester.add(reinterpret_cast<std::uintptr_t>(fonts)).digest();
}

Result<std::shared_ptr<const content::Drawn>> drawn(Store& store, const content::Content& content,
                                                    const std::shared_ptr<const content::FontLibrary>& fonts,
                                                    const Progress& progress) {
    const auto drawing = store.drawings.get(content_key(content, fonts.get()), progress, [&] {
        auto made = content::draw(content, *fonts);
        using Drawing = Result<std::shared_ptr<const content::Drawn>>;
        return kept<Drawing>(made ? Drawing(std::make_shared<const content::Drawn>(std::move(*made)))
                                  : Drawing(std::unexpected(std::move(made.error()))));
    });
    if (!drawing) return std::unexpected(drawing.error());
    return **drawing;
}

Result<surface::FaceMapPtr> mapped(Store& store, const part::PartPtr& part, const job::Mark& mark,
                                   const Progress& progress) {
    const job::Anchor& anchor = mark.anchor;
    const auto faces = part->faces().size();
    if (anchor.fingerprint != part::Fingerprint{} && anchor.face >= 0 &&
        static_cast<std::size_t>(anchor.face) < faces &&
        part->faces()[static_cast<std::size_t>(anchor.face)].fingerprint != anchor.fingerprint)
        return fail("pipeline.face_lost", "The face that the mark was put on is not in the part any more.",
                    "Put the mark on a face of the part as it is now.");
    const auto map = store.maps.get(Digester().add(part->digest()).add(anchor.face).digest(), progress, [&] {
        return kept<Result<surface::FaceMapPtr>>(surface::map_face(*part, anchor.face));
    });
    if (!map) return std::unexpected(map.error());
    if (!**map || !surface::is_laid_about_its_anchor((***map)->kind())) return **map;
    Digester where;
    where.add(part->digest()).add(anchor.face).add(anchor.at.x).add(anchor.at.y).add(mark.laying);
    const auto laid = store.laid.get(
        where.digest(), progress, [&] { return kept<surface::FaceMapPtr>((***map)->about(anchor.at, mark.laying)); });
    if (!laid) return std::unexpected(laid.error());
    return **laid;
}

Result<Derivation> Derivation::start(Store& store, const Surroundings& around, const process::Process& process,
                                     const plate::Pose& pose, const Progress& progress) {
    Derivation derivation(store, around, process, pose, progress);
    auto meshes =
        store.meshes.get(around.part->digest(), progress, [&]() -> Result<std::shared_ptr<const plate::Meshes>> {
            auto made = part::tessellate(*around.part, part::Deflection{}, progress);
            if (!made) return std::unexpected(made.error());
            return kept<plate::Meshes>(std::move(*made));
        });
    if (!meshes) return std::unexpected(meshes.error());
    derivation.meshes_ = *meshes;
    return derivation;
}

std::shared_ptr<const Stand> Derivation::stand(const plate::Pose& pose) const {
    Digester key;
    add(key.add(around_.part->digest()), pose);
    const Progress never;
    return *store_->stands.get(key.digest(), never, [&] {
        Stand stand{plate::placement_of(pose, *meshes_), 0};
        stand.height_mm = plate::height_of(stand.placement, *meshes_);
        return kept(stand);
    });
}

std::vector<plate::Standing> Derivation::standings(Vec3 wall_normal) const {
    Digester key;
    add(add(key.add(around_.part->digest()), wall_normal), pose_);
    process::add(key, *process_);
    const Progress never;
    return **store_->standings.get(key.digest(), never, [&] {
        return kept(plate::stand_with_side_wall(*around_.part, *meshes_, wall_normal, pose_, *process_));
    });
}

namespace {

std::vector<geometry::Narrow> scaled(std::vector<geometry::Narrow> places, double factor) {
    for (geometry::Narrow& place : places) {
        place.at = place.at * factor;
        place.side_a = place.side_a * factor;
        place.side_b = place.side_b * factor;
        place.width *= factor;
    }
    return places;
}

std::vector<geometry::Stretch> scaled(std::vector<geometry::Stretch> stretches, double factor) {
    for (geometry::Stretch& stretch : stretches)
        stretch.width *= factor, stretch.length *= factor;
    return stretches;
}

Widths shared(geometry::Widths widths) {
    using Places = const std::vector<geometry::Narrow>;
    using Stretches = const std::vector<geometry::Stretch>;
    return {std::make_shared<Places>(std::move(widths.strokes)), std::make_shared<Places>(std::move(widths.gaps)),
            std::make_shared<Stretches>(std::move(widths.stroke_stretches)),
            std::make_shared<Stretches>(std::move(widths.gap_stretches))};
}

/// Lettering of one shape is measured once, at this cap height, for all its sizes: sizing a mark, and finding the
/// height at which it is clean, measures nothing anew.
constexpr Mm measured_height{5};

/// Among those of the lettering beneath, the modules of a code: its strokes and gaps, all of one width.
Widths with_modules(geometry::Widths widths, const content::ModulePlaces& code, bool light_is_mark) {
    const auto insert = [](std::vector<geometry::Narrow>& places, Vec2 centre, double width) {
        const Vec2 half{width / 2, 0};
        const auto at = std::ranges::upper_bound(places, width, {}, &geometry::Narrow::width);
        places.insert(at, {centre, centre - half, centre + half, width, 0, 0});
    };
    const Vec2 marked = light_is_mark ? code.light : code.dark;
    insert(widths.strokes, marked, code.groove_mm > 0 ? code.groove_mm : code.module_mm);
    if (code.rib_mm > 0) insert(widths.gaps, marked, code.rib_mm);
    insert(widths.gaps, light_is_mark ? code.dark : code.light, code.module_mm);
    return shared(std::move(widths));
}

} // namespace

Widths Derivation::widths(const content::Content& content, const content::Drawn& own) const {
    if (const auto* code = std::get_if<content::Code>(&content)) {
        auto lettering = lettering_widths(*store_, own, code->lettering, *progress_);
        return with_modules(std::move(lettering).value_or(geometry::Widths{}), *own.code, code->light_is_mark);
    }
    const auto* given = std::get_if<content::Text>(&content);
    if (!given || !(own.cap_height.value > 0)) return shared(geometry::widths(own.outline));
    const content::Text text = content::as_drawn(*given, own);
    const content::Content shape = content::in_proportion(text, measured_height);
    const auto measured = store_->widths.get(
        content_key(shape, around_.fonts.get()), *progress_, [&]() -> Result<std::shared_ptr<const Measured>> {
            const auto drawing = drawn(*store_, shape, around_.fonts, *progress_);
            if (!drawing) return std::unexpected(drawing.error());
            auto widths = lettering_widths(*store_, **drawing, measured_height, *progress_);
            if (!widths) return std::unexpected(widths.error());
            return kept(Measured{*std::move(widths), (*drawing)->outline.regions.size()});
        });
    // At extreme sizes a sliver more or less may survive, and regions would not correspond.
    if (!measured || (*measured)->regions != own.outline.regions.size()) return shared(geometry::widths(own.outline));
    const double factor = text.cap_height / measured_height;
    const geometry::Widths& own_widths = (*measured)->widths;
    return shared({scaled(own_widths.strokes, factor), scaled(own_widths.gaps, factor),
                   scaled(own_widths.stroke_stretches, factor), scaled(own_widths.gap_stretches, factor)});
}

rules::MarkView Derivation::view(const job::Job& job, std::size_t index, rules::Need need) const {
    const job::Mark& mark = job.marks[index];
    return view_of(job, mark, content::expanded(mark.content, job.variables, {0, around_.day}), need);
}

std::vector<rules::MarkView> Derivation::views(const job::Job& job, std::size_t index, rules::Need need) const {
    const job::Mark& mark = job.marks[index];
    std::vector<rules::MarkView> views;
    const auto cases = worst_cases(*store_, mark.content, job.variables, around_.day, around_.fonts, *progress_);
    for (const content::WorstCase& worst : *cases) {
        views.push_back(
            view_of(job, mark, content::expanded(mark.content, job.variables, {0, around_.day}, worst), need));
        views.back().which = worst.what;
        views.back().worst = worst.said;
    }
    return views;
}

rules::MarkView Derivation::view_of(const job::Job& job, const job::Mark& mark, const Result<content::Content>& said,
                                    rules::Need need) const {
    rules::MarkView view;
    view.mark = &mark;
    view.said = said.value_or(mark.content);
    if (!said)
        view.trouble = said.error();
    else if (auto drawing = drawn(*store_, *said, around_.fonts, *progress_))
        view.drawn = *drawing;
    else
        view.trouble = drawing.error();
    if (auto map = mapped(*store_, around_.part, mark, *progress_))
        view.map = *map;
    else if (!view.trouble)
        view.trouble = map.error();
    if (view.map) {
        const auto standing = stand(job.pose);
        const Vec3 normal = view.map->normal(mark.anchor.at);
        view.up = standing->placement.direction(normal).z;
        view.upward = standing->placement.rows[2];
        view.zone = plate::zone_at(standing->placement, view.map->point(mark.anchor.at), normal, *process_);
    }
    if (view.drawn) measure(view), find_lookalikes(view);
    if (view.drawn && view.map && need != rules::Need::widths) place(view, need);
    if (view.drawn && view.map && need >= rules::Need::wall) print(job, view, need == rules::Need::printed);
    return view;
}

void Derivation::measure(rules::MarkView& view) const {
    if (const auto wide = bridge_width(*view.mark, *process_)) {
        const Digest key = content_key(view.said, around_.fonts.get());
        if (const auto held = bridged_drawing(*store_, key, *view.drawn, *wide, *progress_)) {
            view.drawn = (*held)->drawn;
            view.bridges = (*held)->bridges;
            view.strokes = (*held)->strokes;
            view.gaps = (*held)->gaps;
            view.stroke_stretches = (*held)->stroke_stretches;
            view.gap_stretches = (*held)->gap_stretches;
            return;
        }
    }
    const Widths widths = this->widths(view.said, *view.drawn);
    view.strokes = widths.strokes;
    view.gaps = widths.gaps;
    view.stroke_stretches = widths.stroke_stretches;
    view.gap_stretches = widths.gap_stretches;
}

/// Compared once for all sizes, and for all texts of the same characters.
void Derivation::find_lookalikes(rules::MarkView& view) const {
    const auto* text = std::get_if<content::Text>(&view.said);
    if (!text || !(view.drawn->cap_height.value > 0)) return;
    std::string characters;
    for (const char c : rules::characters_at_hand(*view.mark, *text))
        if (!content::taken_for(c).empty() || content::upturned(c)) characters += c;
    std::ranges::sort(characters);
    characters.erase(std::ranges::unique(characters).begin(), characters.end());
    if (characters.empty()) return;
    content::Text style = content::in_proportion(content::as_drawn(*text, *view.drawn), measured_height);
    style.text = characters;
    style.letter_spacing = Mm(0), style.arc_radius = Mm(0);
    const auto found = store_->lookalikes.get(content_key(style, around_.fonts.get()), *progress_, [&] {
        return kept(content::lookalikes(style, characters, *around_.fonts));
    });
    if (!found) return;
    std::vector<content::Lookalike> scaled = **found;
    for (content::Lookalike& one : scaled)
        one.distinct *= view.drawn->cap_height / measured_height;
    view.lookalikes = std::make_shared<const std::vector<content::Lookalike>>(std::move(scaled));
}

std::optional<Vec2> Derivation::shift_inward(const rules::MarkView& view, double wanted) const {
    if (!view.map || !view.drawn) return std::nullopt;
    const Digest key = on_face_key(view).add(wanted).digest();
    if (const auto known = store_->places.peek(key); known && !*known) return std::nullopt;
    auto shift = surface::shift_inward(*view.map, view.placed, wanted);
    if (shift) {
        // Of the anchor, in the mm of the face's own map.
        const Vec2 at = view.mark->anchor.at;
        shift = view.map->on_face(at + *shift) - at;
    }
    if (!shift) store_->places.put(key, std::make_shared<const bool>(false));
    return shift;
}

/// What it is and how it is turned, but not where, unless the face shows it differently everywhere: a drag keeps it.
Digester Derivation::on_face_key(const rules::MarkView& view) const {
    const job::Mark& mark = *view.mark;
    Digester key;
    key.add(around_.part->digest()).add(content_key(view.said, around_.fonts.get()));
    key.add(mark.anchor.face).add(mark.anchor.turn.value).add(bridge_width(mark, *process_).value_or(0));
    const auto kind = around_.part->faces()[static_cast<std::size_t>(mark.anchor.face)].kind;
    if (surface::is_laid_about_its_anchor(kind)) key.add(mark.anchor.at.x).add(mark.anchor.at.y).add(mark.laying);
    return key;
}

void Derivation::place(rules::MarkView& view, rules::Need need) const {
    const job::Anchor& anchor = view.mark->anchor;
    view.placed = geometry::transformed(view.drawn->outline, surface::placement(anchor.at, anchor.turn));
    view.placed_box = geometry::bounds(view.placed);
    if (need == rules::Need::placed) return;

    Digester key = on_face_key(view);
    const Digest on_face = key.digest();
    key.add(anchor.at.x).add(anchor.at.y);
    const auto margin =
        store_->margins.get(key.digest(), *progress_, [&]() -> Result<std::shared_ptr<const surface::Margin>> {
            const auto finder = store_->finders.get(on_face, *progress_, [&] {
                return std::make_shared<const surface::MarginFinder>(
                    view.map->room(), geometry::transformed(view.drawn->outline, surface::placement({}, anchor.turn)));
            });
            if (!finder) return std::unexpected(finder.error());
            return kept((*finder)->at(anchor.at));
        });
    if (!margin) return;
    view.margin = **margin;
    if (need < rules::Need::wall) return;

    key.add(view.mark->mode).add(view.mark->depth.value).add(view.mark->cover.value);
    key.add(view.mark->floor);
    const auto around =
        store_->surrounds.get(key.digest(), *progress_, [&]() -> Result<std::shared_ptr<const Surround>> {
            const auto obstacles = this->obstacles();
            if (!obstacles) return fail(std::string(cancelled_code), "Cancelled.");
            const job::Mark& mark = *view.mark;
            const imprint::Footprint footprint = footprint_of(mark, view.map, view.placed);
            Surround made;
            if (mark.mode == Mode::through) {
                if (auto far = obstacles->far_side(footprint))
                    made.far = *std::move(far);
                else
                    made.no_far = std::move(far.error());
            } else if (mark.mode != Mode::raise)
                made.wall = obstacles->wall_behind(footprint);
            else
                made.room_above = obstacles->room_above(footprint);
            return kept(made);
        });
    if (!around) return;
    view.wall = (*around)->wall;
    view.room_above = (*around)->room_above;
    view.far = (*around)->far;
    view.no_far = (*around)->no_far;
}

std::shared_ptr<const imprint::Obstacles> Derivation::obstacles() const {
    return store_->obstacles
        .get(around_.part->digest(), *progress_,
             [&] { return imprint::Obstacles::of(*around_.part, part::Deflection{}, *progress_); })
        .value_or(nullptr);
}

void Derivation::print(const job::Job& job, rules::MarkView& view, bool now) const {
    if (!process_->printing) return;
    const job::Mark& mark = *view.mark;
    PrintOrder order{&mark, view.said, view.drawn, view.map, view.zone, {}, stand(job.pose)->placement, {}, 0};
    if (mark.mode == Mode::through) {
        if (!view.far) return;
        order.wall_mm = view.far->farthest;
    }
    order.body = around_.part->faces()[static_cast<std::size_t>(mark.anchor.face)].body;
    const print::Standing standing = standing_of(order, *process_);

    Digester alike;
    alike.add(content_key(view.said, around_.fonts.get())).add(bridge_width(mark, *process_).value_or(0));
    alike.add(mark.mode).add(standing.depth.value).add(mark.cover.value).add(view.zone);
    process::add(alike, *process_);
    Digester exact = alike;
    exact.add(standing.up.x).add(standing.up.y).add(standing.incline.value).add(standing.first_layer_at.value);
    for (const double height : standing.rise.heights)
        exact.add(height);
    if (mark.mode == Mode::hidden) exact.add(on_face_key(view).digest()).add(mark.anchor.at.x).add(mark.anchor.at.y);

    view.printed = store_->printed.peek(exact.digest());
    if (view.printed) return;
    if (!now) {
        view.printed = store_->printed_alike.peek(alike.digest());
        return;
    }
    if (mark.mode == Mode::hidden) order.obstacles = obstacles();
    const auto made =
        store_->printed.get(exact.digest(), *progress_, [&]() -> Result<std::shared_ptr<const print::PrintedMark>> {
            auto printed = print_mark(order, *process_, *progress_);
            if (!printed) return std::unexpected(printed.error());
            return kept(*std::move(printed));
        });
    if (!made) return; // too large or cancelled: judged by the limits alone
    view.printed = *made;
    store_->printed_alike.replace(alike.digest(), *made);
}

} // namespace touchmark::pipeline
