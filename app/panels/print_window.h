// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/lane.h"
#include "app/session/session.h"
#include "core/pipeline/layers.h"

#include <QDialog>
#include <QPainterPath>
#include <QThreadPool>

class QComboBox;
class QLabel;
class QSlider;
class QTabBar;
class QTableWidget;

namespace touchmark::panels {

class PrintedPicture;
class SeverityMark;

/// The selected mark as it comes out of the printer: its surface, any of its layers, how a reader sees it, and what is
/// left of each letter. Follows the session while it is open.
class PrintWindow : public QDialog {
    Q_OBJECT

public:
    explicit PrintWindow(session::Session& session, QWidget* parent = nullptr);
    ~PrintWindow() override;

protected:
    void showEvent(QShowEvent* event) override;

private:
    enum Tab { surface, layers, looks };
    void build_controls();
    void on_changed(session::Changes changes);
    void refresh();
    void refresh_verdict();
    void refresh_letters();
    void show_surface();
    void show_layers();
    void show_layer(int index);
    void show_look();
    void read_lettering(std::shared_ptr<const print::PrintedMark> printed);
    void show_reading();
    /// The mark shown and what is known of it; nullptr where there is none.
    [[nodiscard]] const job::Mark* mark() const;
    [[nodiscard]] std::shared_ptr<const print::PrintedMark> printed() const;

    session::Session& session_;
    QThreadPool pool_;
    session::Lane work_, reading_;
    QLabel *title_, *verdict_, *said_;
    SeverityMark* severity_;
    QTabBar* tabs_;
    PrintedPicture* picture_;
    QWidget* layer_row_;
    QSlider* layer_;
    QLabel* layer_said_;
    QWidget* look_row_;
    QComboBox* look_;
    QLabel* look_said_;
    QTableWidget* letters_;
    std::shared_ptr<const print::PrintedMark> shown_, read_;
    QString words_read_; ///< of read_
    std::shared_ptr<const print::Layers> layers_;
    QPainterPath plan_; ///< of the mark, as its layers lie
};

} // namespace touchmark::panels
