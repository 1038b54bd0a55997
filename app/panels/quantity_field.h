// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/quantity.h"

#include <QLineEdit>

namespace touchmark::panels {

/// A number with its unit. Enter or leaving commits; arrow keys and, once focused, the wheel step (Shift: ten times);
/// Esc takes back what was typed. Arithmetic and inches are understood.
class QuantityField : public QLineEdit {
    Q_OBJECT

public:
    struct Options {
        Measure measure = Measure::length;
        QString unit;
        double least = -1e9, most = 1e9, step = 1;
        QString zero{};     ///< a word that stands for 0 until the field has the focus
        bool whole = false; ///< a count: without decimals
    };
    QuantityField(Options options, QWidget* parent = nullptr);

    void set_value(double value);
    [[nodiscard]] double value() const { return value_; }

signals:
    void changed_to(double value);
    /// What was typed cannot be used; empty: it can.
    void trouble(const QString& message);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    void commit();
    void step(double by);
    void show_value();
    [[nodiscard]] bool shows_word() const;

    Options options_;
    double value_ = 0;
};

} // namespace touchmark::panels
