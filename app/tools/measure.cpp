// SPDX-License-Identifier: MIT
#include "app/tools/measure.h"

#include "app/tools/paint.h"

#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>

namespace touchmark::tools {
namespace {

QString tr(const char* words) {
    return QCoreApplication::translate("MeasureTool", words);
}

} // namespace

void MeasureTool::set_running(bool running) {
    if (running == running_ || (running && !around_.session.part())) return;
    running_ = running;
    points_.clear();
    pointer_.reset();
    if (running)
        around_.viewport.setCursor(Qt::CrossCursor);
    else
        around_.viewport.unsetCursor();
    around_.viewport.update_overlay();
    if (running_changed) running_changed(running);
}

std::optional<double> MeasureTool::distance_mm() const {
    if (points_.empty()) return std::nullopt;
    if (points_.size() == 2) return distance(points_[0], points_[1]);
    return pointer_ ? std::optional(distance(points_[0], *pointer_)) : std::nullopt;
}

bool MeasureTool::handle(QEvent& event) {
    if (!running_) return false;
    switch (event.type()) {
    case QEvent::MouseMove: {
        const auto& moved = static_cast<QMouseEvent&>(event);
        if (moved.buttons() != Qt::NoButton) return false;
        const auto hit = around_.viewport.pick(moved.position());
        pointer_ = hit ? std::optional(hit->point) : std::nullopt;
        around_.viewport.setCursor(Qt::CrossCursor);
        around_.viewport.update_overlay();
        return true;
    }
    case QEvent::MouseButtonPress: {
        const auto& press = static_cast<QMouseEvent&>(event);
        const auto hit = press.button() == Qt::LeftButton ? around_.viewport.pick(press.position()) : std::nullopt;
        if (!hit) return false;
        if (points_.size() == 2) points_.clear();
        points_.push_back(hit->point);
        around_.viewport.update_overlay();
        return true;
    }
    case QEvent::KeyPress:
        if (static_cast<QKeyEvent&>(event).key() != Qt::Key_Escape) return false;
        set_running(false);
        return true;
    default:
        return false;
    }
}

void MeasureTool::paint(QPainter& painter) {
    if (!running_) return;
    QPolygonF line;
    for (const Vec3& point : points_)
        line.append(around_.viewport.to_widget(point));
    if (points_.size() == 1 && pointer_) line.append(around_.viewport.to_widget(*pointer_));
    if (line.size() == 2) draw_line(painter, around_.viewport, line);
    for (const QPointF& end : line)
        draw_grip(painter, around_.viewport, end, Grip::round, false);
    const auto apart = distance_mm();
    if (apart && line.size() == 2)
        draw_label(painter, around_.viewport, (line[0] + line[1]) / 2, tr("%1 mm").arg(*apart, 0, 'f', 2));
    draw_hint(painter, around_.viewport,
              points_.empty() ? tr("Click the first point. Esc leaves.") : tr("Click the second point. Esc leaves."));
}

} // namespace touchmark::tools
