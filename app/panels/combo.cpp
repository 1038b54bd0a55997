// SPDX-License-Identifier: MIT
#include "app/panels/combo.h"

#include "app/panels/look.h"

#include <QPainter>
#include <QWheelEvent>

namespace touchmark::panels {

Combo::Combo(QWidget* parent) : QComboBox(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    setMinimumContentsLength(6);
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
}

void Combo::wheelEvent(QWheelEvent* event) {
    if (hasFocus())
        QComboBox::wheelEvent(event);
    else
        event->ignore();
}

void Combo::paintEvent(QPaintEvent* event) {
    QComboBox::paintEvent(event);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(palette().color(isEnabled() ? QPalette::Text : QPalette::PlaceholderText), 1.4, Qt::SolidLine,
                        Qt::RoundCap, Qt::RoundJoin));
    const QPointF middle(width() - 14, height() / 2.0 + 0.5);
    painter.drawPolyline(QPolygonF{middle + QPointF(-4, -2), middle + QPointF(0, 2), middle + QPointF(4, -2)});
}

} // namespace touchmark::panels
