// SPDX-License-Identifier: MIT
#include "app/tools/turn_and_size.h"

#include "app/tools/paint.h"
#include "core/job/parameter.h"

#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::tools {
namespace {

constexpr double reach = 9;           ///< pixels from a handle's middle that still take hold of it
constexpr double frame_gap = 8;       ///< pixels between the mark and its frame
constexpr double ring_gap = 16;       ///< and between the frame's corner and the ring
constexpr double largest_ring = 0.36; ///< of the view's smaller side; a longer mark gets an arc above it instead
constexpr double snap = 15;
constexpr double smallest_mm = 0.5, largest_mm = 500;

QString tr(const char* words) {
    return QCoreApplication::translate("TurnAndSizeTool", words);
}

double distance_between(QPointF a, QPointF b) {
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

} // namespace

TurnAndSizeTool::Handles TurnAndSizeTool::handles() const {
    Handles handles;
    const auto mark = around_.selected();
    if (!mark || around_.viewport.width() < 1) return handles;
    const viewport::Viewport& view = around_.viewport;
    if (!mark->drawn || !view.visible(mark->centre() + mark->normal() * 0.02)) return handles;
    const double scale = view.pixels_per_mm(mark->centre());
    const double gap = frame_gap / scale;
    const Box2 box{{mark->extent.low.x - gap, mark->extent.low.y - gap},
                   {mark->extent.high.x + gap, mark->extent.high.y + gap}};
    const auto on_screen = [&](Vec2 p) { return view.to_widget(mark->point(p)); };
    handles.corners = {on_screen(box.low), on_screen({box.high.x, box.low.y}), on_screen(box.high),
                       on_screen({box.low.x, box.high.y})};
    handles.frame = QPolygonF(QList<QPointF>(handles.corners.begin(), handles.corners.end()));
    handles.frame.append(handles.corners.front());
    double radius =
        std::max({length(box.low), length(box.high), length(Vec2{box.high.x, box.low.y})}) + ring_gap / scale;
    double from = 0, sweep = 2 * std::numbers::pi;
    if (radius * scale > largest_ring * std::min(view.width(), view.height())) {
        radius = box.high.y + 2 * ring_gap / scale;
        sweep = 0.6;
        from = (std::numbers::pi - sweep) / 2;
    }
    constexpr int steps = 72;
    for (int i = 0; i <= steps; ++i) {
        const double angle = from + sweep * i / steps;
        handles.ring.append(on_screen(Vec2{std::cos(angle), std::sin(angle)} * radius));
    }
    handles.knob = on_screen({0, radius});
    handles.shown = true;
    return handles;
}

TurnAndSizeTool::Under TurnAndSizeTool::under(QPointF at) const {
    const Handles where = handles();
    if (!where.shown) return {};
    if (distance_between(at, where.knob) <= reach + 2) return {Grip::knob, 0};
    for (std::size_t i = 0; i < where.corners.size(); ++i)
        if (distance_between(at, where.corners[i]) <= reach) return {Grip::corner, i};
    return {};
}

bool TurnAndSizeTool::handle(QEvent& event) {
    switch (event.type()) {
    case QEvent::MouseButtonPress:
        return press(static_cast<QMouseEvent&>(event));
    case QEvent::MouseMove: {
        const auto& moved = static_cast<QMouseEvent&>(event);
        pointer_ = moved.position();
        if (held_.grip != Grip::none) {
            drag(moved);
            return true;
        }
        if (around_.session.in_gesture()) return false;
        const Under now = under(moved.position());
        if (now.grip != hot_.grip || now.corner != hot_.corner) {
            hot_ = now;
            around_.viewport.update_overlay();
        }
        if (hot_.grip == Grip::none) return false;
        around_.viewport.setCursor(hot_.grip == Grip::knob ? Qt::PointingHandCursor : Qt::SizeFDiagCursor);
        return true;
    }
    case QEvent::MouseButtonRelease:
        if (held_.grip == Grip::none || static_cast<QMouseEvent&>(event).button() != Qt::LeftButton) return false;
        stop(true);
        return true;
    case QEvent::KeyPress:
        if (held_.grip == Grip::none || static_cast<QKeyEvent&>(event).key() != Qt::Key_Escape) return false;
        stop(false);
        return true;
    default:
        return false;
    }
}

bool TurnAndSizeTool::press(const QMouseEvent& event) {
    if (event.button() != Qt::LeftButton) return false;
    const Under now = under(event.position());
    const auto mark = around_.selected();
    if (now.grip == Grip::none || !mark) return false;
    const auto on = around_.on_face(*mark->map, mark->mark->anchor.at, event.position());
    if (!on || length(*on - mark->mark->anchor.at) < 1e-6) return false;
    held_ = hot_ = now;
    mark_ = mark->mark->id;
    start_ = *on - mark->mark->anchor.at;
    start_turn_ = mark->mark->anchor.turn;
    start_height_ = content::size_of(mark->mark->content).value;
    pointer_ = event.position();
    around_.session.begin_gesture(now.grip == Grip::knob ? tr("Turn mark") : tr("Size mark"));
    around_.viewport.set_dragging(true);
    return true;
}

void TurnAndSizeTool::drag(const QMouseEvent& event) {
    const auto mark = around_.placed(mark_);
    if (!mark) {
        stop(false);
        return;
    }
    job::Anchor anchor = mark->mark->anchor;
    const auto on = around_.on_face(*mark->map, anchor.at, event.position());
    if (!on) return;
    const Vec2 now = *on - anchor.at;
    if (length(now) < 1e-6) return;
    if (held_.grip == Grip::knob) {
        const double by = std::atan2(cross(start_, now), dot(start_, now)) * 180 / std::numbers::pi;
        const double step = event.modifiers().testFlag(Qt::ShiftModifier) ? snap : 1;
        anchor.turn = normalised(Degrees(std::round((start_turn_.value + by) / step) * step));
        figure_ = QStringLiteral("%1°").arg(std::round(anchor.turn.value)).replace(u'-', u'−');
        (void)around_.session.gesture(
            [id = mark_, anchor](const job::Job& job) { return job::move_mark(job, id, anchor); });
    } else {
        const double wanted = start_height_ * length(now) / length(start_);
        const Mm height(std::round(std::clamp(wanted, smallest_mm, largest_mm) * 10) / 10);
        const content::Content content = content::with_size(mark->mark->content, height);
        figure_ = tr("%1 %2 mm").arg(text(job::parameter(job::size_key(content))->title)).arg(height.value, 0, 'f', 1);
        (void)around_.session.gesture(
            [id = mark_, content](const job::Job& job) { return job::set_content(job, id, content); });
    }
    around_.viewport.update_overlay();
}

void TurnAndSizeTool::stop(bool keep) {
    held_ = {};
    figure_.clear();
    if (keep)
        around_.session.end_gesture();
    else
        around_.session.abandon_gesture();
    around_.viewport.set_dragging(false);
    around_.viewport.unsetCursor();
    around_.viewport.update_overlay();
}

void TurnAndSizeTool::paint(QPainter& painter) {
    const Handles where = handles();
    if (!where.shown) return;
    const QWidget& widget = around_.viewport;
    const bool turning = held_.grip == Grip::knob || hot_.grip == Grip::knob;
    painter.setOpacity(turning ? 1 : 0.8);
    draw_line(painter, widget, where.ring, turning ? 1.5 : 1);
    painter.setOpacity(held_.grip == Grip::corner ? 1 : 0.8);
    draw_line(painter, widget, where.frame, 1);
    painter.setOpacity(1);
    for (std::size_t i = 0; i < where.corners.size(); ++i)
        draw_grip(painter, widget, where.corners[i], tools::Grip::square,
                  hot_.grip == Grip::corner && hot_.corner == i);
    draw_grip(painter, widget, where.knob, tools::Grip::round, turning);
    if (!figure_.isEmpty()) draw_label(painter, widget, pointer_, figure_);
}

} // namespace touchmark::tools
