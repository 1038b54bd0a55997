// SPDX-License-Identifier: MIT
#include "app/panels/quantity_field.h"

#include "app/panels/look.h"
#include "core/base/number_text.h"

#include <QKeyEvent>
#include <QPainter>
#include <cmath>

namespace touchmark::panels {

QuantityField::QuantityField(Options options, QWidget* parent) : QLineEdit(parent), options_(std::move(options)) {
    setFont(figures_font(font()));
    setAlignment(Qt::AlignRight);
    setTextMargins(0, 0, options_.unit.isEmpty() ? 0 : fontMetrics().horizontalAdvance(options_.unit) + 6, 0);
    setFocusPolicy(Qt::StrongFocus);
    show_value();
}

void QuantityField::set_value(double value) {
    if (value == value_ && !isModified()) return;
    value_ = value;
    if (hasFocus() && isModified()) return; // never pull the text from under the hand
    show_value();
}

bool QuantityField::shows_word() const {
    return value_ == 0 && !options_.zero.isEmpty() && !hasFocus();
}

void QuantityField::show_value() {
    const QString shown = shows_word()     ? options_.zero
                          : options_.whole ? QString::number(value_, 'f', 0)
                                           : panels::text(number_text(value_));
    const bool exact = std::abs(shown.toDouble() - value_) < 1e-9;
    setText(hasFocus() && !exact ? editable_number(value_) : shown);
    setModified(false);
}

void QuantityField::commit() {
    if (!isModified()) return;
    const Result<double> typed = parse_quantity(text(), options_.measure);
    if (!typed) {
        emit trouble(panels::text(typed.error().hint));
        return;
    }
    if (*typed < options_.least || *typed > options_.most) {
        emit trouble(tr("From %1 to %2 %3.")
                         .arg(editable_number(options_.least), editable_number(options_.most), options_.unit)
                         .simplified());
        return;
    }
    emit trouble({});
    const bool moved = *typed != value_;
    value_ = *typed;
    show_value();
    if (moved) emit changed_to(value_);
}

void QuantityField::step(double by) {
    commit();
    // Land on whole steps, so that 4.23 becomes 4.5 and not 4.73.
    const double steps = value_ / options_.step;
    const double next = by > 0 ? std::floor(steps + by + 1e-9) : std::ceil(steps + by - 1e-9);
    const double value = std::clamp(next * options_.step, options_.least, options_.most);
    emit trouble({});
    if (value == value_) return;
    value_ = value;
    show_value();
    selectAll();
    emit changed_to(value_);
}

void QuantityField::keyPressEvent(QKeyEvent* event) {
    const double times = event->modifiers() & Qt::ShiftModifier ? 10 : 1;
    switch (event->key()) {
    case Qt::Key_Up:
        step(times);
        return;
    case Qt::Key_Down:
        step(-times);
        return;
    case Qt::Key_PageUp:
        step(10);
        return;
    case Qt::Key_PageDown:
        step(-10);
        return;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        commit();
        selectAll();
        return;
    case Qt::Key_Escape:
        if (isModified()) {
            show_value();
            selectAll();
            emit trouble({});
            return;
        }
        break;
    default:
        break;
    }
    QLineEdit::keyPressEvent(event);
}

void QuantityField::wheelEvent(QWheelEvent* event) {
    if (!hasFocus()) { // the rail scrolls; a value must not change because the pointer passed over it
        event->ignore();
        return;
    }
    const int turned = event->angleDelta().y() != 0 ? event->angleDelta().y() : event->angleDelta().x();
    if (turned != 0) step((turned > 0 ? 1 : -1) * (event->modifiers() & Qt::ShiftModifier ? 10 : 1));
    event->accept();
}

void QuantityField::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    show_value();
    selectAll();
}

void QuantityField::focusOutEvent(QFocusEvent* event) {
    commit();
    QLineEdit::focusOutEvent(event);
    if (!isModified()) show_value();
}

void QuantityField::paintEvent(QPaintEvent* event) {
    QLineEdit::paintEvent(event);
    if (options_.unit.isEmpty() || shows_word()) return;
    QPainter painter(this);
    painter.setPen(palette().color(QPalette::PlaceholderText));
    painter.drawText(rect().adjusted(0, 0, -grid, 0), Qt::AlignRight | Qt::AlignVCenter, options_.unit);
}

} // namespace touchmark::panels
