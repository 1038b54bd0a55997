// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/silhouette.h"
#include "app/session/session.h"

#include <QWidget>
#include <optional>

namespace touchmark::panels {

/// The side view in the plate strip: silhouette, height, layer ruler, the marks at their heights. The pointer (or the
/// arrow keys) reads a layer.
class PlateView : public QWidget {
    Q_OBJECT

public:
    explicit PlateView(session::Session& session, QWidget* parent = nullptr);
    ~PlateView() override;

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    struct Band {
        double low = 0, high = 0, left = 0, right = 0; ///< mm on the plate
        bool selected = false;
        bool near_side = true;
    };
    void on_changed(session::Changes changes);
    void ask_for_silhouette();
    [[nodiscard]] QRectF drawing() const;
    [[nodiscard]] double y_of(double height_mm) const;
    [[nodiscard]] std::optional<Band> band_of(const pipeline::MarkEvaluation& mark, const job::Job& job,
                                              const plate::Placement& placement) const;
    void read_layer_at(double y);
    [[nodiscard]] int layers() const;
    [[nodiscard]] double top_of_layer(int layer) const;
    void paint_ruler(QPainter& painter) const;
    void paint_marks(QPainter& painter) const;
    void paint_layer(QPainter& painter) const;

    session::Session& session_;
    Silhouette silhouette_;
    std::shared_ptr<Progress> asked_;
    std::optional<int> layer_; ///< from 1
};

} // namespace touchmark::panels
