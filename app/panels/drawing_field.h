// SPDX-License-Identifier: MIT
#pragma once

#include <QPushButton>

class QMimeData;

namespace touchmark::panels {

/// Takes a drawing: press to choose a file, drop one on it, or paste a file or SVG text.
class DrawingField : public QPushButton {
    Q_OBJECT

public:
    explicit DrawingField(QWidget* parent = nullptr);
    /// Empty: nothing chosen yet.
    void set_name(const QString& name);
    /// Whether this could be a drawing.
    [[nodiscard]] static bool takes(const QMimeData& carried);
    /// Emits chosen() for the first drawing in it.
    void take(const QMimeData& carried);

signals:
    void chosen(const QString& name, const QByteArray& bytes);
    void trouble(const QString& message);

protected:
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void choose();
    void read(const QString& file);
};

} // namespace touchmark::panels
