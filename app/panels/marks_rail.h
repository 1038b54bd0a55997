// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QPushButton>

namespace touchmark::panels {

class CardColumn;
class FaceSurvey;
class MarkCard;
class VariablesCard;

/// Dragged onto the part it puts a mark there; pressed (or Enter) it asks for a place by itself.
class NewMark : public QPushButton {
    Q_OBJECT

public:
    explicit NewMark(QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    static constexpr const char* mime_type = "application/x-touchmark-mark";

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;

private:
    QPoint pressed_at_;
};

/// The marks of the job, one card each, and the source of new ones.
class MarksRail : public QWidget {
    Q_OBJECT

public:
    explicit MarksRail(session::Session& session, QWidget* parent = nullptr);
    ~MarksRail() override;
    /// A new mark on the face that takes it best, its text ready to be typed.
    void place_new_mark();
    void edit_selected_text();
    /// What was typed over the picture goes into the selected mark's text, in place of what it said.
    void type_text(const QString& typed);

signals:
    void failed(const touchmark::Error& error);

private:
    void on_changed(session::Changes changes);
    void rebuild();
    void show_selection();
    void add(const job::Mark& mark);
    [[nodiscard]] MarkCard* card(const QString& mark) const;

    session::Session& session_;
    FaceSurvey* survey_; ///< one for all cards
    CardColumn* column_;
    QWidget* nothing_yet_;
    NewMark* new_mark_;
    VariablesCard* variables_;  ///< behind the marks
    QPushButton* to_variables_; ///< at hand while the marks are long
    std::vector<MarkCard*> cards_;
};

} // namespace touchmark::panels
