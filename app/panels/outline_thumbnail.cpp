// SPDX-License-Identifier: MIT
#include "app/panels/outline_thumbnail.h"

#include "app/panels/look.h"

#include <QPainter>

namespace touchmark::panels {
namespace {

QPointF at(Vec2 p) {
    return {p.x, p.y};
}

void append(QPainterPath& path, const geometry::Contour& contour) {
    if (contour.segments.empty()) return;
    path.moveTo(at(contour.segments.front().start()));
    for (const geometry::Segment& segment : contour.segments) {
        const auto& p = segment.points;
        if (segment.degree == 1)
            path.lineTo(at(p[1]));
        else if (segment.degree == 2)
            path.quadTo(at(p[1]), at(p[2]));
        else
            path.cubicTo(at(p[1]), at(p[2]), at(p[3]));
    }
    path.closeSubpath();
}

} // namespace

QPainterPath path_of(const geometry::Outline& outline) {
    QPainterPath path;
    path.setFillRule(Qt::WindingFill);
    for (const geometry::Region& region : outline.regions) {
        append(path, region.outer);
        for (const geometry::Contour& hole : region.holes)
            append(path, hole);
    }
    return path;
}

OutlineThumbnail::OutlineThumbnail(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

void OutlineThumbnail::set(QPainterPath path, bool cut) {
    path_ = std::move(path);
    cut_ = cut;
    update();
}

void OutlineThumbnail::set_cut(bool cut) {
    if (cut == cut_) return;
    cut_ = cut;
    update();
}

void OutlineThumbnail::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QColor ground = palette().color(QPalette::AlternateBase), ink = palette().color(QPalette::Text);
    painter.setPen(Qt::NoPen);
    painter.setBrush(ground);
    painter.drawRoundedRect(rect(), 4, 4);
    const QRectF extent = path_.boundingRect();
    if (path_.isEmpty() || extent.width() <= 0 || extent.height() <= 0) return;
    const QRectF room = QRectF(rect()).adjusted(6, 6, -6, -6);
    const double scale = std::min(room.width() / extent.width(), room.height() / extent.height());
    painter.translate(room.center());
    painter.scale(scale, -scale);
    painter.translate(-extent.center());
    if (!cut_) { // raised: its edge stands off the ground
        painter.setPen(QPen(ink, 1 / scale));
        painter.setBrush(palette().color(QPalette::Base));
    } else {
        painter.setBrush(ink);
    }
    painter.drawPath(path_);
}

} // namespace touchmark::panels
