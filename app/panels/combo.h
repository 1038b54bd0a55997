// SPDX-License-Identifier: MIT
#pragma once

#include <QComboBox>

namespace touchmark::panels {

/// A choice that the wheel changes only once it has the focus, so that scrolling past changes nothing.
class Combo : public QComboBox {
    Q_OBJECT

public:
    explicit Combo(QWidget* parent = nullptr);

protected:
    void wheelEvent(QWheelEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
};

} // namespace touchmark::panels
