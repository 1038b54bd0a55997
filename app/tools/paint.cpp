// SPDX-License-Identifier: MIT
#include "app/tools/paint.h"

#include <algorithm>

namespace touchmark::tools {
namespace {

void draw_sheet(QPainter& painter, const QWidget& widget, const QRectF& box, const QString& words) {
    QColor sheet = widget.palette().color(QPalette::Base);
    sheet.setAlphaF(0.94F);
    painter.setPen(QPen(widget.palette().color(QPalette::Mid), 1));
    painter.setBrush(sheet);
    painter.drawRoundedRect(box, 5, 5);
    painter.setPen(widget.palette().color(QPalette::WindowText));
    painter.drawText(box, Qt::AlignCenter, words);
}

QSizeF size_of(const QPainter& painter, const QString& words) {
    const QFontMetricsF metrics(painter.font());
    return {metrics.horizontalAdvance(words) + 16, metrics.height() + 8};
}

} // namespace

void draw_label(QPainter& painter, const QWidget& widget, QPointF beside, const QString& words) {
    const QSizeF size = size_of(painter, words);
    QRectF box(beside + QPointF(18, -size.height() - 10), size);
    if (box.right() > widget.width() - 8) box.moveRight(beside.x() - 18);
    box.moveLeft(std::max(box.left(), 8.0));
    if (box.top() < 8) box.moveTop(beside.y() + 14);
    draw_sheet(painter, widget, box.translated(0.5, 0.5), words);
}

void draw_hint(QPainter& painter, const QWidget& widget, const QString& words) {
    const QSizeF size = size_of(painter, words);
    draw_sheet(painter, widget, QRectF(QPointF((widget.width() - size.width()) / 2, 12), size), words);
}

void draw_line(QPainter& painter, const QWidget& widget, const QPolygonF& line, double width) {
    QColor halo = widget.palette().color(QPalette::Base);
    halo.setAlphaF(0.45F);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(halo, width + 1.5, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    painter.setPen(
        QPen(widget.palette().color(QPalette::Highlight), width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(line);
}

void draw_grip(QPainter& painter, const QWidget& widget, QPointF at, Grip shape, bool hot) {
    const QColor accent = widget.palette().color(QPalette::Highlight);
    const double half = hot ? 6 : 5;
    const QRectF box(at.x() - half, at.y() - half, 2 * half, 2 * half);
    painter.setPen(QPen(accent, 2));
    painter.setBrush(hot ? accent : widget.palette().color(QPalette::Base));
    if (shape == Grip::round)
        painter.drawEllipse(box);
    else
        painter.drawRoundedRect(box, 1.5, 1.5);
}

} // namespace touchmark::tools
