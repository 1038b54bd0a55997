// SPDX-License-Identifier: MIT
#include "app/tools/move.h"

#include "app/tools/paint.h"

#include <QApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <array>
#include <cmath>

namespace touchmark::tools {
namespace {

constexpr double nudge_mm = 0.1, far_nudge_mm = 1.0;

QString tr(const char* words) {
    return QCoreApplication::translate("MoveTool", words);
}

std::optional<Vec2> direction_of(int key) {
    switch (key) {
    case Qt::Key_Left:
        return Vec2{-1, 0};
    case Qt::Key_Right:
        return Vec2{1, 0};
    case Qt::Key_Up:
        return Vec2{0, 1};
    case Qt::Key_Down:
        return Vec2{0, -1};
    default:
        return std::nullopt;
    }
}

bool is_typing(const QKeyEvent& event) {
    return !(event.modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) &&
           !event.text().isEmpty() && event.text().at(0).isPrint();
}

} // namespace

bool MoveTool::handle(QEvent& event) {
    switch (event.type()) {
    case QEvent::MouseButtonPress:
        return press(static_cast<QMouseEvent&>(event));
    case QEvent::MouseMove:
        return move(static_cast<QMouseEvent&>(event));
    case QEvent::MouseButtonRelease:
        return release(static_cast<QMouseEvent&>(event));
    case QEvent::MouseButtonDblClick:
        if (!around_.mark_under(static_cast<QMouseEvent&>(event).position())) return false;
        if (typed) typed({});
        return true;
    case QEvent::KeyPress:
        return key(static_cast<QKeyEvent&>(event));
    case QEvent::ShortcutOverride: { // single keys are ours while a mark is selected
        auto& wanted = static_cast<QKeyEvent&>(event);
        if (around_.session.selected_mark().isEmpty()) return false;
        if (!is_typing(wanted) && !direction_of(wanted.key()) && wanted.key() != Qt::Key_Delete) return false;
        event.accept();
        return true;
    }
    default:
        return false;
    }
}

bool MoveTool::press(const QMouseEvent& event) {
    if (event.button() != Qt::LeftButton || event.modifiers().testFlag(Qt::ShiftModifier)) return false;
    pressed_ = event.position();
    const auto under = around_.mark_under(event.position());
    held_ = under ? under->mark->id : std::string();
    if (!under) return false; // the camera's, and on release perhaps a click beside everything
    const auto on = around_.on_face(*under->map, under->mark->anchor.at, event.position());
    grip_ = on ? under->to_mark(*on) : Vec2{};
    lean_ = normalised(under->mark->anchor.turn - around_.upright(*under->map, under->mark->anchor.at));
    around_.session.select_mark(text(held_));
    return true;
}

bool MoveTool::move(const QMouseEvent& event) {
    pointer_ = event.position();
    if (!(event.buttons() & Qt::LeftButton) || held_.empty() || !pressed_) {
        hover(event.position());
        return false;
    }
    if (!carrying_) {
        if ((event.position() - *pressed_).manhattanLength() < QApplication::startDragDistance() / 2.0) return true;
        carrying_ = true;
        around_.session.begin_gesture(tr("Move mark"));
        around_.viewport.set_dragging(true);
    }
    carry(event.position());
    return true;
}

void MoveTool::hover(QPointF at) {
    if (around_.session.in_gesture()) return;
    const bool over = !around_.session.job().marks.empty() && around_.mark_under(at);
    if (over)
        around_.viewport.setCursor(Qt::SizeAllCursor);
    else
        around_.viewport.unsetCursor();
}

void MoveTool::carry(QPointF to) {
    const auto hit = around_.viewport.pick(to);
    obstacle_ = hit ? QString() : tr("Beside the part");
    const auto map = hit ? around_.map(hit->face) : Result<surface::FaceMapPtr>(fail("", ""));
    if (hit && !map) obstacle_ = reason(map.error());
    around_.viewport.setCursor(obstacle_.isEmpty() ? Qt::ClosedHandCursor : Qt::ForbiddenCursor);
    around_.viewport.update_overlay();
    if (!obstacle_.isEmpty()) return;
    const Vec2 point = (*map)->locate(hit->point);
    const Degrees turn = around_.upright(**map, point) + lean_;
    const geometry::Affine turned = geometry::Affine::rotation(turn.radians());
    const job::Anchor anchor = around_.anchor(**map, point - turned(grip_), turn);
    (void)around_.session.gesture(
        [mark = held_, anchor](const job::Job& job) { return job::move_mark(job, mark, anchor); });
}

void MoveTool::stop(bool keep) {
    carrying_ = false;
    held_.clear();
    obstacle_.clear();
    if (keep)
        around_.session.end_gesture();
    else
        around_.session.abandon_gesture();
    around_.viewport.set_dragging(false);
    around_.viewport.unsetCursor();
    around_.viewport.update_overlay();
}

bool MoveTool::release(const QMouseEvent& event) {
    if (event.button() != Qt::LeftButton || !pressed_) return false;
    const bool clicked = (event.position() - *pressed_).manhattanLength() < QApplication::startDragDistance();
    pressed_.reset();
    if (carrying_) {
        stop(true);
        return true;
    }
    const bool beside = std::exchange(held_, {}).empty();
    if (beside && clicked) around_.session.select_mark({});
    return !beside;
}

bool MoveTool::key(QKeyEvent& event) {
    if (event.key() == Qt::Key_Escape) {
        if (carrying_) {
            stop(false);
            return true;
        }
        if (around_.session.selected_mark().isEmpty()) return false;
        around_.session.select_mark({});
        return true;
    }
    const auto selected = around_.selected();
    if (around_.session.selected_mark().isEmpty() || carrying_) return carrying_;
    if (event.key() == Qt::Key_Delete) {
        const std::string id = around_.session.selected_mark().toStdString();
        (void)around_.session.edit(tr("Delete mark"), [id](const job::Job& job) { return job::remove_mark(job, id); });
        return true;
    }
    if (const auto way = direction_of(event.key()); way && selected) {
        if (event.modifiers().testFlag(Qt::ControlModifier))
            turn(way->x + way->y > 0 ? -1 : 1); // right and up: clockwise
        else
            nudge(*way, event.modifiers().testFlag(Qt::ShiftModifier) ? far_nudge_mm : nudge_mm);
        return true;
    }
    const bool enters = event.key() == Qt::Key_Return || event.key() == Qt::Key_Enter || event.key() == Qt::Key_F2;
    if (!typed || (!enters && !is_typing(event))) return false;
    typed(enters ? QString() : event.text());
    return true;
}

/// Along whichever axis of the face points most that way on the screen.
void MoveTool::nudge(Vec2 on_screen, double step_mm) {
    const auto mark = around_.selected();
    const Vec2 at = mark->mark->anchor.at;
    const QPointF middle = around_.viewport.to_widget(mark->map->point(at));
    Vec2 best;
    double most = -std::numeric_limits<double>::infinity();
    for (const Vec2 axis : {Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{0, -1}}) {
        const QPointF moved = around_.viewport.to_widget(mark->map->point(at + axis)) - middle;
        const double long_way = std::max(std::hypot(moved.x(), moved.y()), 1e-9);
        const double likeness = (moved.x() * on_screen.x - moved.y() * on_screen.y) / long_way;
        if (likeness <= most) continue;
        most = likeness;
        best = axis;
    }
    job::Anchor anchor = mark->mark->anchor;
    anchor.at = at + best * step_mm;
    const std::string id = mark->mark->id;
    (void)around_.session.edit_merged(tr("Nudge mark"), text("nudge " + id),
                                      [id, anchor](const job::Job& job) { return job::move_mark(job, id, anchor); });
}

void MoveTool::turn(double by_degrees) {
    const auto mark = around_.selected();
    job::Anchor anchor = mark->mark->anchor;
    anchor.turn = normalised(anchor.turn + Degrees(by_degrees));
    const std::string id = mark->mark->id;
    (void)around_.session.edit_merged(tr("Turn mark"), text("turn " + id),
                                      [id, anchor](const job::Job& job) { return job::move_mark(job, id, anchor); });
}

void MoveTool::paint(QPainter& painter) {
    if (carrying_ && !obstacle_.isEmpty()) draw_label(painter, around_.viewport, pointer_, obstacle_);
}

} // namespace touchmark::tools
