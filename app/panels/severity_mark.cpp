// SPDX-License-Identifier: MIT
#include "app/panels/severity_mark.h"

#include "app/panels/look.h"

#include <QPainter>
#include <QPainterPath>

namespace touchmark::panels {
namespace {
constexpr int shape_size = 12;
}

void paint_severity(QPainter& painter, const QRectF& within, std::optional<rules::Severity> severity,
                    const QColor& ink) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF box = within.adjusted(1, 1, -1, -1);
    painter.setPen(QPen(ink, 1.6, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    if (!severity) {
        painter.drawPolyline(QPolygonF{
            {box.left(), box.center().y()}, {box.center().x() - 1, box.bottom() - 1}, {box.right(), box.top() + 1}});
        painter.restore();
        return;
    }
    // A lozenge: reads at any size, and no lamp.
    const QPolygonF lozenge{{box.center().x(), box.top()},
                            {box.right(), box.center().y()},
                            {box.center().x(), box.bottom()},
                            {box.left(), box.center().y()}};
    if (*severity == rules::Severity::blocker) painter.setBrush(ink);
    painter.drawPolygon(lozenge);
    if (*severity == rules::Severity::warning) {
        painter.setClipRect(QRectF(within.left(), within.top(), within.width() / 2, within.height()));
        painter.setBrush(ink);
        painter.drawPolygon(lozenge);
    }
    painter.restore();
}

QString severity_word(std::optional<rules::Severity> severity) {
    return severity ? text(rules::title_of(*severity)) : SeverityMark::tr("Nothing found");
}

SeverityMark::SeverityMark(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    set(std::nullopt);
}

void SeverityMark::set(std::optional<rules::Severity> severity, const QString& word) {
    severity_ = severity;
    word_ = word.isEmpty() ? severity_word(severity) : word;
    setAccessibleName(word_);
    updateGeometry();
    update();
}

QSize SeverityMark::sizeHint() const {
    return {shape_size + grid + fontMetrics().horizontalAdvance(word_) + 2,
            std::max(shape_size, fontMetrics().height())};
}

QSize SeverityMark::minimumSizeHint() const {
    return {shape_size + grid, sizeHint().height()};
}

void SeverityMark::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const QColor ink = palette().color(QPalette::WindowText);
    paint_severity(painter, QRectF(0, (height() - shape_size) / 2.0, shape_size, shape_size), severity_, ink);
    painter.setPen(ink);
    const QRect words = rect().adjusted(shape_size + grid, 0, 0, 0);
    painter.drawText(words, Qt::AlignVCenter | Qt::AlignLeft,
                     fontMetrics().elidedText(word_, Qt::ElideRight, words.width()));
}

} // namespace touchmark::panels
