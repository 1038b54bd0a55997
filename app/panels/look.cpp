// SPDX-License-Identifier: MIT
#include "app/panels/look.h"

#include <QApplication>
#include <QFontDatabase>
#include <QKeyEvent>
#include <QLayout>
#include <QMouseEvent>
#include <QPainter>
#include <QPointer>
#include <QPushButton>
#include <QScrollBar>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <map>

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

namespace {

bool is_tabular(const QFont& font) {
    const QFontMetricsF metrics(font);
    const double width = metrics.horizontalAdvance(u'0');
    return std::ranges::all_of(QStringLiteral("123456789"),
                               [&](QChar digit) { return std::abs(metrics.horizontalAdvance(digit) - width) < 0.01; });
}

QString tabular_family(const QFont& font) {
    if (is_tabular(font)) return font.family();
    const QStringList installed = QFontDatabase::families();
    for (const char* family : {"Roboto", "Noto Sans", "Liberation Sans", "Arimo", "DejaVu Sans"})
        if (QFont other(QLatin1String(family), font.pointSize());
            installed.contains(other.family()) && is_tabular(other))
            return other.family();
    return font.family();
}

} // namespace

QFont figures_font(const QFont& font) {
    static std::map<QString, QString> families;
    auto known = families.find(font.family());
    if (known == families.end()) known = families.emplace(font.family(), tabular_family(font)).first;
    QFont figures = font;
    figures.setFamily(known->second);
    // Faces differ in how tall their capitals are at one size; keep those of the text around. Measured large, for at
    // the size in hand hinting rounds them.
    const auto capitals = [](QFont face) {
        face.setPixelSize(200);
        return QFontMetricsF(face).capHeight();
    };
    if (const double is = capitals(figures); is > 0) figures.setPointSizeF(font.pointSizeF() * capitals(font) / is);
    return figures;
}

QColor accent() {
    return QApplication::palette().color(QPalette::Highlight);
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
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (auto* button = qobject_cast<QPushButton*>(QApplication::focusWidget());
        enter && button && isAncestorOf(button)) {
        button->click();
        return;
    }
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

CardColumn::CardColumn(QWidget* parent) : QScrollArea(parent) {
    auto* holder = new QWidget(this);
    layout_ = new QVBoxLayout(holder);
    layout_->setContentsMargins(0, 0, 0, 0);
    layout_->setSpacing(grid);
    layout_->addStretch();
    setWidget(holder);
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFocusPolicy(Qt::NoFocus);
}

void CardColumn::resizeEvent(QResizeEvent* event) {
    QScrollArea::resizeEvent(event);
    widget()->setMaximumWidth(viewport()->width());
}

void CardColumn::bring_into_view(QWidget* card) {
    QTimer::singleShot(0, this, [this, shown = QPointer<QWidget>(card)] { // once it has been laid out
        if (!shown) return;
        widget()->layout()->activate();
        if (shown->height() > viewport()->height())
            verticalScrollBar()->setValue(shown->y());
        else
            ensureWidgetVisible(shown, 0, grid);
    });
}

void clear(QLayout& layout) {
    while (QLayoutItem* item = layout.takeAt(0)) {
        if (QWidget* widget = item->widget()) widget->deleteLater();
        delete item;
    }
}

} // namespace touchmark::panels
