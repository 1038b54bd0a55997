// SPDX-License-Identifier: MIT
#include "app/tools/toolbox.h"

#include "app/tools/finding_spots.h"
#include "app/tools/keep_clear.h"
#include "app/tools/lie_on_plate.h"
#include "app/tools/measure.h"
#include "app/tools/move.h"
#include "app/tools/place.h"
#include "app/tools/presenter.h"
#include "app/tools/turn_and_size.h"

#include <algorithm>

namespace touchmark::tools {

struct Toolbox::Impl {
    Impl(session::Session& session, viewport::Viewport& viewport)
        : around(session, viewport), presenter(around), spots(around), move(around), turn_and_size(around),
          measure(around), lie_on_plate(around), keep_clear(around), place(around) {}

    /// In the order of adding: the last one is asked first and painted on top.
    [[nodiscard]] std::array<viewport::Handler*, 7> tools() {
        return {&spots, &move, &turn_and_size, &measure, &lie_on_plate, &keep_clear, &place};
    }
    /// One of those that wait for a click at a time.
    void leave_others(const viewport::Handler* starting) {
        if (starting != &place) place.cancel();
        if (starting != &lie_on_plate) lie_on_plate.set_running(false);
        if (starting != &keep_clear) keep_clear.set_running(false);
        if (starting != &measure) measure.set_running(false);
    }

    Surroundings around;
    Presenter presenter;
    FindingSpotsTool spots;
    MoveTool move;
    TurnAndSizeTool turn_and_size;
    MeasureTool measure;
    LieOnPlateTool lie_on_plate;
    KeepClearTool keep_clear;
    PlaceTool place;
};

Toolbox::Toolbox(session::Session& session, viewport::Viewport& viewport, QObject* parent)
    : QObject(parent), impl_(std::make_unique<Impl>(session, viewport)) {
    for (viewport::Handler* tool : impl_->tools())
        viewport.add_handler(tool);
    impl_->move.typed = [this](const QString& text) { emit text_typed(text); };
    impl_->place.running_changed = [this](bool running) { emit placing_changed(running); };
    impl_->lie_on_plate.running_changed = [this](bool running) { emit laying_face_changed(running); };
    impl_->keep_clear.running_changed = [this](bool running) { emit keeping_clear_changed(running); };
    impl_->measure.running_changed = [this](bool running) { emit measuring_changed(running); };
    connect(&session, &session::Session::changed, this, [this](session::Changes changes) {
        if (changes & session::Change::part) impl_->leave_others(nullptr);
        impl_->presenter.on_changed(changes);
        if (changes & session::Change::selection) impl_->spots.follow_selection();
        impl_->around.viewport.update_overlay();
    });
    impl_->presenter.on_changed(session::Change::part);
}

Toolbox::~Toolbox() {
    for (viewport::Handler* tool : impl_->tools())
        impl_->around.viewport.remove_handler(tool);
}

void Toolbox::place_mark(const QString& text) {
    impl_->leave_others(&impl_->place);
    impl_->place.start(text);
}

void Toolbox::set_laying_face(bool laying) {
    if (laying) impl_->leave_others(&impl_->lie_on_plate);
    impl_->lie_on_plate.set_running(laying);
}

void Toolbox::set_keeping_clear(bool keeping) {
    if (keeping) impl_->leave_others(&impl_->keep_clear);
    impl_->keep_clear.set_running(keeping);
}

void Toolbox::set_measuring(bool measuring) {
    if (measuring) impl_->leave_others(&impl_->measure);
    impl_->measure.set_running(measuring);
}

bool Toolbox::placing() const {
    return impl_->place.running();
}

bool Toolbox::laying_face() const {
    return impl_->lie_on_plate.running();
}

bool Toolbox::keeping_clear() const {
    return impl_->keep_clear.running();
}

bool Toolbox::measuring() const {
    return impl_->measure.running();
}

void Toolbox::set_printed(bool printed) {
    impl_->presenter.set_printed(printed);
}

void Toolbox::set_shaded(bool shaded) {
    impl_->presenter.set_shaded(shaded);
}

Mode Toolbox::shaded_mode() const {
    return impl_->presenter.mode();
}

void Toolbox::zoom_to_selected_mark() {
    const auto mark = impl_->around.selected();
    if (!mark) return;
    const double extent = std::max(mark->extent.width(), mark->extent.height());
    impl_->around.viewport.fly_to(mark->centre(), mark->normal(), extent * 0.6);
}

bool Toolbox::handles(QPointF& knob, QPointF& corner) const {
    const auto where = impl_->turn_and_size.handles();
    knob = where.knob;
    corner = where.corners[2];
    return where.shown;
}

} // namespace touchmark::tools
