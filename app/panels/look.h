// SPDX-License-Identifier: MIT
#pragma once

#include <QFrame>
#include <QLabel>
#include <QScrollArea>

#include <string_view>

class QVBoxLayout;

namespace touchmark::panels {

/// The grid that every distance follows, and the air inside a card, in device-independent pixels.
inline constexpr int grid = 8;
inline constexpr int card_inset = 12;

[[nodiscard]] inline QString text(std::string_view utf8) {
    return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}

/// One type size below the body, for what is looked up rather than read.
[[nodiscard]] QFont small_font(const QWidget& widget);
[[nodiscard]] QFont strong_font(const QWidget& widget);
/// Tabular: every digit as wide as every other, so that a stepping number does not tremble. The widget's own face where
/// it is so, else the nearest one installed (Qt 6.4 cannot switch a face's own tabular figures on).
[[nodiscard]] QFont figures_font(const QFont& font);
/// The colour of what is selected. A list's own palette does not have it: there the style sheet's selection stands.
[[nodiscard]] QColor accent();
/// A label that wraps, plain text only.
[[nodiscard]] QLabel* wrapping_label(QWidget* parent);
void make_quiet(QLabel& label); ///< small and in the second text colour

/// One line that gives way when there is no room; the whole text is its tooltip then.
class ElidedLabel : public QLabel {
    Q_OBJECT

public:
    explicit ElidedLabel(QWidget* parent = nullptr);
    void set_text(const QString& text);
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
};

/// A sheet on the ground: rounded, hairline round it, a bar and ring of the accent when selected. Takes focus; Enter,
/// Space or a click activate it.
class Card : public QFrame {
    Q_OBJECT

public:
    explicit Card(QWidget* parent = nullptr);
    void set_selected(bool selected);
    [[nodiscard]] bool selected() const { return selected_; }

signals:
    void activated();
    void step(int by); ///< arrow up or down: to the neighbour

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    bool selected_ = false;
};

/// A column of cards that scrolls up and down, never sideways.
class CardColumn : public QScrollArea {
    Q_OBJECT

public:
    explicit CardColumn(QWidget* parent = nullptr);
    [[nodiscard]] QVBoxLayout& cards() const { return *layout_; }
    /// Brings the whole of it into view, its head when it is taller than the column.
    void bring_into_view(QWidget* card);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    QVBoxLayout* layout_;
};

/// Deletes what a layout holds.
void clear(QLayout& layout);

} // namespace touchmark::panels
