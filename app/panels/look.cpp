// SPDX-License-Identifier: MIT
#include "app/panels/look.h"

#include <QKeyEvent>
#include <QLayout>
#include <QMouseEvent>
#include <QPainter>

namespace touchmark::panels {

QFont small_font(const QWidget& widget) {
    QFont font = widget.font();
    font.setPointSizeF(std::max(font.pointSizeF() - 1, 7.0));
    return font;
}

QFont strong_font(const QWidget& widget) {
    QFont font = widget.font();
    font.setWeight(QFont::DemiBold);
    return font;
}

QLabel* wrapping_label(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextFormat(Qt::PlainText);
    label->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Minimum);
    return label;
}

void make_quiet(QLabel& label) {
    label.setFont(small_font(label));
    label.setForegroundRole(QPalette::PlaceholderText);
}

ElidedLabel::ElidedLabel(QWidget* parent) : QLabel(parent) {
    setTextFormat(Qt::PlainText);
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
}

void ElidedLabel::set_text(const QString& text) {
    if (text != this->text()) setText(text);
}

QSize ElidedLabel::minimumSizeHint() const {
    return {fontMetrics().averageCharWidth() * 4, QLabel::minimumSizeHint().height()};
}

void ElidedLabel::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setPen(palette().color(foregroundRole()));
    const QString shown = fontMetrics().elidedText(text(), Qt::ElideRight, width());
    setToolTip(shown == text() ? QString() : text());
    painter.drawText(rect(), static_cast<int>(alignment()) | Qt::TextSingleLine, shown);
}

Card::Card(QWidget* parent) : QFrame(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setAttribute(Qt::WA_Hover);
}

void Card::set_selected(bool selected) {
    if (selected == selected_) return;
    selected_ = selected;
    update();
}

void Card::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QPalette& colours = palette();
    const QRectF sheet = QRectF(rect()).adjusted(1, 1, -1, -1);
    const bool marked = selected_ || hasFocus();
    painter.setBrush(colours.color(QPalette::Base));
    painter.setPen(QPen(marked         ? colours.color(QPalette::Highlight)
                        : underMouse() ? colours.color(QPalette::PlaceholderText)
                                       : colours.color(QPalette::Mid),
                        hasFocus() ? 2 : 1));
    painter.drawRoundedRect(sheet, 6, 6);
    if (!selected_) return;
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.color(QPalette::Highlight));
    painter.drawRoundedRect(QRectF(0, card_inset, 4, std::min(48.0, height() - 2.0 * card_inset)), 2, 2);
}

void Card::mousePressEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton) emit activated();
    QFrame::mousePressEvent(event);
    event->accept();
}

void Card::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space:
        emit activated();
        return;
    case Qt::Key_Up:
        emit step(-1);
        return;
    case Qt::Key_Down:
        emit step(1);
        return;
    default:
        QFrame::keyPressEvent(event);
    }
}

void Card::focusInEvent(QFocusEvent* event) {
    update();
    QFrame::focusInEvent(event);
}

void Card::focusOutEvent(QFocusEvent* event) {
    update();
    QFrame::focusOutEvent(event);
}

void clear(QLayout& layout) {
    while (QLayoutItem* item = layout.takeAt(0)) {
        if (QWidget* widget = item->widget()) widget->deleteLater();
        delete item;
    }
}

} // namespace touchmark::panels
