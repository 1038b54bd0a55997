// SPDX-License-Identifier: MIT
#include "app/panels/combo.h"

#include "app/panels/look.h"

#include <QAbstractItemView>
#include <QCompleter>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>

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

FamilyBox::FamilyBox(const std::vector<std::string>& families, QWidget* parent) : Combo(parent) {
    setEditable(true);
    setInsertPolicy(QComboBox::NoInsert);
    setMaxVisibleItems(16);
    for (const std::string& family : families) {
        addItem(text(family));
        setItemData(count() - 1, QFont(text(family), font().pointSize() + 1), Qt::FontRole);
    }
    completer()->setFilterMode(Qt::MatchContains);
    completer()->setCompletionMode(QCompleter::PopupCompletion);
    completer()->setCaseSensitivity(Qt::CaseInsensitive);
    connect(this, &QComboBox::activated, this, [this] { take_typed(); });
    connect(completer(), qOverload<const QString&>(&QCompleter::activated), this, [this](const QString& family) {
        setEditText(family);
        take_typed();
    });
}

void FamilyBox::set_family(const QString& family) {
    family_ = family;
    if (lineEdit()->hasFocus() && lineEdit()->isModified()) return;
    setCurrentIndex(findText(family, Qt::MatchFixedString));
    setEditText(family);
    lineEdit()->setCursorPosition(0);
}

void FamilyBox::take_typed() {
    const int found = findText(currentText().trimmed(), Qt::MatchFixedString);
    lineEdit()->setModified(false);
    const QString family = found >= 0 ? itemText(found) : family_;
    setEditText(family);
    if (family == family_) return;
    family_ = family;
    emit chosen(family);
}

void FamilyBox::focusOutEvent(QFocusEvent* event) {
    if (event->reason() != Qt::PopupFocusReason) take_typed();
    Combo::focusOutEvent(event);
}

void FamilyBox::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape && lineEdit()->isModified()) {
        lineEdit()->setModified(false);
        setEditText(family_);
        return;
    }
    Combo::keyPressEvent(event);
}

} // namespace touchmark::panels
