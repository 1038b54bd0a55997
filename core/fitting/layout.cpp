// SPDX-License-Identifier: MIT
#include "core/fitting/layout.h"

#include <algorithm>
#include <cmath>

namespace touchmark::fitting {
namespace {

// In units of a line's width, see Plan::unit.
constexpr double body_length = 200, body_depth = 110, body_height = 22;
constexpr double inset = 3; ///< of what is behind the body's end, so that walls of the two are not one
constexpr double step_width = 18, rim_width = 34, plate_width = 38;
constexpr double label = 6, bottom_label = 9; ///< cap heights
constexpr double letter_room = 8;             ///< left of a series for its letter
constexpr int rim_above = 4, plate_layers = 9;
constexpr double matrix_modules = 12, qr_modules = 29; ///< with their quiet zones

double modules_of(const Item& item) {
    return item.symbology == content::Symbology::qr ? qr_modules : matrix_modules;
}

class Plan {
public:
    explicit Plan(const process::Process& process) : process_(process) {}

    /// With a fine nozzle no smaller than what a light meter and fingers need.
    [[nodiscard]] double unit() const { return std::max(process_.line_width_mm.value, least_unit); }
    [[nodiscard]] double mm(double units) const { return units * unit(); }
    [[nodiscard]] double height() const { return whole_layers(mm(body_height)); }
    [[nodiscard]] double step_depth(std::size_t steps) const {
        return mm(body_depth - 2 * inset) / static_cast<double>(steps);
    }
    [[nodiscard]] double rim_height(double thickest) const {
        return thickest + rim_above * process_.layer_height_mm.value;
    }
    [[nodiscard]] double plate_height() const { return layers_mm(process_, plate_layers); }

private:
    static constexpr double least_unit = 0.36; // mm
    [[nodiscard]] double whole_layers(double height) const {
        const double first = process_.first_layer_mm.value, layer = process_.layer_height_mm.value;
        return first + std::ceil((height - first) / layer - 1e-9) * layer;
    }
    const process::Process& process_;
};

/// A face as a person looks at it, with places in units from its lower left corner.
struct View {
    Vec3 origin, along, up;
    double unit;

    [[nodiscard]] Spot spot(double right, double above) const {
        return {origin + along * (right * unit) + up * (above * unit), along, up};
    }
};

std::vector<const Item*> of_series(std::span<const Item> items, char letter) {
    std::vector<const Item*> out;
    for (const Item& item : items)
        if (item.name.front() == letter) out.push_back(&item);
    return out;
}

class Placing {
public:
    Placing(const process::Process& process, std::span<const Item> items) : plan_(process), items_(items) {
        const double long_mm = plan_.mm(body_length), deep = plan_.mm(body_depth), unit = plan_.unit();
        front_ = {{0, 0, 0}, {1, 0, 0}, {0, 0, 1}, unit};
        back_ = {{long_mm, deep, 0}, {-1, 0, 0}, {0, 0, 1}, unit};
        top_ = {{0, 0, plan_.height()}, {1, 0, 0}, {0, 1, 0}, unit};
        bottom_ = {{long_mm, 0, 0}, {-1, 0, 0}, {0, 1, 0}, unit};
    }

    std::vector<Placed> run(const std::string& profile) {
        even_row(front_, 'A', {2, 1}, 9);
        even_row(front_, 'B', {102, 1}, 9);
        even_row(back_, 'C', {2, 1}, 11);
        close_row(back_, 'D', {112, 1});
        even_row(top_, 'E', {2, 84}, 9);
        even_row(top_, 'F', {102, 84}, 9);
        even_row(top_, 'G', {2, 61}, 11);
        close_row(top_, 'H', {112, 61});
        close_row(top_, 'J', {2, 2});
        close_row(top_, 'K', {106, 2});
        even_row(bottom_, 'L', {42, 30}, 12, bottom_label);
        add_label(bottom_.spot(body_length / 2, 80), profile, bottom_label);
        behind_the_end();
        return std::move(out_);
    }

private:
    void add_label(const Spot& spot, std::string text, double cap = label) {
        out_.push_back({spot, std::move(text), plan_.mm(cap), nullptr});
    }
    void add_item(const Spot& spot, const Item& item) { out_.push_back({spot, {}, 0, &item}); }

    /// Bars a pitch apart, numbered beneath; `corner`: the row's lower left one.
    void even_row(const View& view, char letter, Vec2 corner, double pitch, double cap = label) {
        const double middle = corner.y + cap / 2 + 1, bars = corner.y + cap + 7;
        add_label(view.spot(corner.x + letter_room / 2, middle), std::string(1, letter), cap);
        double right = corner.x + letter_room + pitch / 2;
        for (const Item* item : of_series(items_, letter)) {
            add_label(view.spot(right, middle), item->name.substr(1), cap);
            add_item(view.spot(right, bars), *item);
            right += pitch;
        }
    }

    /// Items of their own widths side by side, standing on one line.
    void close_row(const View& view, char letter, Vec2 corner) {
        constexpr double between = 3, text_width = 2.1; // of a cap height, two bold letters
        const double middle = corner.y + label / 2 + 1, base = corner.y + label + 3;
        add_label(view.spot(corner.x + letter_room / 2, middle), std::string(1, letter));
        double left = corner.x + letter_room;
        for (const Item* item : of_series(items_, letter)) {
            const bool code = item->kind == Kind::code;
            const double size = item->size_mm / plan_.unit();
            const double width = size * (code ? modules_of(*item) : text_width);
            const double high = code ? width : size;
            add_label(view.spot(left + width / 2, middle), item->name.substr(1));
            add_item(view.spot(left + width / 2, base + high / 2), *item);
            left += width + between;
        }
    }

    void behind_the_end() {
        const auto steps = of_series(items_, 'W'), hidden = of_series(items_, 'M');
        const View rim{{plan_.mm(body_length + step_width), 0, plan_.rim_height(steps.back()->size_mm)},
                       {1, 0, 0},
                       {0, 1, 0},
                       plan_.unit()};
        const double deep = plan_.step_depth(steps.size()) / plan_.unit();
        for (std::size_t i = 0; i < steps.size(); ++i)
            add_label(rim.spot(9.5, inset + (static_cast<double>(i) + 0.5) * deep), short_number(steps[i]->size_mm));
        double room = body_depth - 2 * inset;
        for (const Item* item : hidden)
            room -= item->size_mm / plan_.unit() * modules_of(*item);
        const double between = room / static_cast<double>(hidden.size() + 1);
        const View plate{{rim.origin.x + plan_.mm(rim_width), 0, plan_.plate_height()}, {1, 0, 0}, {0, 1, 0}, rim.unit};
        double low = inset;
        for (const Item* item : hidden) {
            const double high = item->size_mm / plan_.unit() * modules_of(*item), middle = low + between + high / 2;
            add_label(rim.spot(27, middle), item->name);
            add_item(plate.spot(plate_width / 2, middle), *item);
            low += between + high;
        }
    }

    Plan plan_;
    std::span<const Item> items_;
    View front_{}, back_{}, top_{}, bottom_{};
    std::vector<Placed> out_;
};

} // namespace

std::vector<Box3> blocks_of(const process::Process& process) {
    const Plan plan(process);
    const double long_mm = plan.mm(body_length), low = plan.mm(inset), high = plan.mm(body_depth - inset);
    std::vector<Box3> out{{{0, 0, 0}, {long_mm, plan.mm(body_depth), plan.height()}}};
    const std::vector<Item> items = items_of(process);
    const auto steps = of_series(items, 'W');
    const double rim = long_mm + plan.mm(step_width), plate = rim + plan.mm(rim_width),
                 deep = plan.step_depth(steps.size());
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const double from = low + static_cast<double>(i) * deep;
        const double to = i + 1 == steps.size() ? high : low + static_cast<double>(i + 1) * deep;
        out.push_back({{long_mm, from, 0}, {rim, to, steps[i]->size_mm}});
    }
    out.push_back({{rim, low, 0}, {plate, high, plan.rim_height(steps.back()->size_mm)}});
    out.push_back({{plate, low, 0}, {plate + plan.mm(plate_width), high, plan.plate_height()}});
    return out;
}

std::vector<Placed> placed(const process::Process& process, std::span<const Item> items) {
    return Placing(process, items).run(process.id);
}

} // namespace touchmark::fitting
