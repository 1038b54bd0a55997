// SPDX-License-Identifier: MIT
#pragma once

#include <QComboBox>
#include <string>
#include <vector>

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

/// Font families: type to search anywhere in the name; each is shown in its own face.
class FamilyBox : public Combo {
    Q_OBJECT

public:
    FamilyBox(const std::vector<std::string>& families, QWidget* parent = nullptr);
    void set_family(const QString& family);

signals:
    void chosen(const QString& family);

protected:
    void focusOutEvent(QFocusEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void take_typed();
    QString family_;
};

} // namespace touchmark::panels
