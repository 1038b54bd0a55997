// SPDX-License-Identifier: MIT
#include "app/tools/place.h"

#include "app/tools/paint.h"

#include <QCoreApplication>
#include <QDropEvent>
#include <QKeyEvent>
#include <QMimeData>
#include <QMouseEvent>
#include <algorithm>
#include <cmath>

namespace touchmark::tools {
namespace {

QString tr(const char* words) {
    return QCoreApplication::translate("PlaceTool", words);
}

/// As it comes, or smaller where the face has less room: a letter's width is about its cap height.
content::Text lettering(const QString& words, Vec2 room, Degrees turn) {
    content::Text lettering;
    lettering.text = words.toStdString();
    const bool across = std::abs(std::remainder(turn.value, 180)) > 45;
    const double wide = across ? room.y : room.x, high = across ? room.x : room.y;
    const double letters = std::max<double>(1, static_cast<double>(words.size()));
    const double fits = std::min(high / 1.6, wide / (letters * 1.1));
    if (fits < lettering.cap_height.value) lettering.cap_height = Mm(std::max(0.5, std::floor(fits * 10) / 10));
    return lettering;
}

} // namespace

void PlaceTool::start(const QString& text) {
    if (!around_.session.part() || around_.session.in_gesture()) return;
    text_ = text;
    dragged_ = false;
    run(true);
}

void PlaceTool::run(bool running) {
    if (running == running_) return;
    running_ = running;
    on_face_ = false;
    obstacle_.clear();
    if (running) {
        around_.session.begin_gesture(tr("New mark"));
        around_.viewport.set_dragging(true);
        if (!dragged_) around_.viewport.setCursor(Qt::CrossCursor);
    } else {
        around_.viewport.set_dragging(false);
        around_.viewport.unsetCursor();
    }
    around_.viewport.update_overlay();
    if (running_changed) running_changed(running);
}

void PlaceTool::cancel() {
    if (!running_) return;
    around_.session.abandon_gesture();
    run(false);
}

bool PlaceTool::handle(QEvent& event) {
    switch (event.type()) {
    case QEvent::DragEnter:
    case QEvent::DragMove:
    case QEvent::DragLeave:
    case QEvent::Drop:
        return handle_drag(event);
    default:
        return running_ && !dragged_ && handle_pointer(event);
    }
}

bool PlaceTool::handle_drag(QEvent& event) {
    if (event.type() == QEvent::DragLeave) {
        if (!running_ || !dragged_) return false;
        cancel();
        return true;
    }
    auto& drag = static_cast<QDropEvent&>(event);
    if (!drag.mimeData()->hasFormat(QLatin1String(mark_mime_type))) return false;
    if (!running_) {
        if (!around_.session.part() || around_.session.in_gesture()) return false;
        text_ = QString::fromUtf8(drag.mimeData()->data(QLatin1String(mark_mime_type)));
        dragged_ = true;
        run(true);
    }
    follow(drag.position());
    if (event.type() != QEvent::Drop) {
        drag.setDropAction(Qt::CopyAction);
        // The enter event is accepted always, else no further ones come.
        drag.setAccepted(on_face_ || event.type() == QEvent::DragEnter);
        return true;
    }
    drag.setDropAction(Qt::CopyAction);
    drag.setAccepted(drop(drag.position()));
    if (running_) cancel();
    return true;
}

bool PlaceTool::handle_pointer(QEvent& event) {
    switch (event.type()) {
    case QEvent::MouseMove:
        if (static_cast<QMouseEvent&>(event).buttons() != Qt::NoButton) return false;
        follow(static_cast<QMouseEvent&>(event).position());
        around_.viewport.setCursor(obstacle_.isEmpty() ? Qt::CrossCursor : Qt::ForbiddenCursor);
        return true;
    case QEvent::MouseButtonPress: {
        const auto& press = static_cast<QMouseEvent&>(event);
        if (press.button() != Qt::LeftButton) return false;
        follow(press.position());
        if (!on_face_) return false; // beside the part: turns the view
        return drop(press.position());
    }
    case QEvent::KeyPress:
        if (static_cast<QKeyEvent&>(event).key() != Qt::Key_Escape) return false;
        cancel();
        return true;
    case QEvent::Leave:
        show_nothing();
        return false;
    default:
        return false;
    }
}

void PlaceTool::show_nothing() {
    on_face_ = false;
    (void)around_.session.gesture([](const job::Job& job) -> Result<job::Job> { return job; });
    around_.viewport.update_overlay();
}

void PlaceTool::follow(QPointF at) {
    pointer_ = at;
    const auto hit = around_.viewport.pick(at);
    obstacle_.clear();
    if (!hit) {
        show_nothing();
        return;
    }
    const auto map = around_.map(hit->face);
    if (!map) {
        obstacle_ = reason(map.error());
        show_nothing();
        return;
    }
    const Vec2 point = (*map)->locate(hit->point);
    job::Mark mark;
    mark.anchor = around_.anchor(**map, point, around_.upright(**map, point));
    mark.content = lettering(text_, (*map)->rectangle(), mark.anchor.turn);
    const Status placed = around_.session.gesture([mark](const job::Job& job) { return job::add_mark(job, mark); });
    on_face_ = placed.has_value();
    if (!placed) obstacle_ = text(placed.error().message);
    around_.viewport.update_overlay();
}

bool PlaceTool::drop(QPointF at) {
    follow(at);
    if (!on_face_) return false;
    const std::string id = around_.session.job().marks.back().id;
    around_.session.end_gesture();
    run(false);
    around_.session.select_mark(text(id));
    around_.viewport.setFocus(Qt::OtherFocusReason);
    return true;
}

void PlaceTool::paint(QPainter& painter) {
    if (!running_) return;
    if (!dragged_) draw_hint(painter, around_.viewport, tr("Click where the mark goes. Esc leaves."));
    if (!obstacle_.isEmpty()) draw_label(painter, around_.viewport, pointer_, obstacle_);
}

} // namespace touchmark::tools
