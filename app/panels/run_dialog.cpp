// SPDX-License-Identifier: MIT
#include "app/panels/run_dialog.h"

#include "app/panels/run_cards.h"
#include "core/run/sentences.h"

#include <QHBoxLayout>
#include <QProgressBar>
#include <QShortcut>
#include <QVBoxLayout>

namespace touchmark::panels {
namespace {

constexpr int left_width = 384;

} // namespace

RunDialog::RunDialog(session::Session& session, std::filesystem::path planning, const RunFigures& figures,
                     QWidget* parent)
    : QDialog(parent), session_(session), reckoner_(new RunReckoner(session, this)),
      card_(new RunFiguresCard(std::move(planning), figures, this)), left_(new CardColumn(this)),
      right_(new CardColumn(this)), message_(wrapping_label(this)), grounds_(wrapping_label(this)),
      heading_(new QLabel(this)), compared_head_(new QWidget(this)), progress_(new QProgressBar(this)) {
    setWindowTitle(tr("Over the run"));
    setAccessibleName(tr("Over the run"));
    setMinimumSize(840, 480);
    resize(1040, 640);
    build();
    connect(reckoner_, &RunReckoner::reckoned, this, &RunDialog::refresh);
    connect(reckoner_, &RunReckoner::compared_anew, this, &RunDialog::refresh_alternatives);
    connect(card_, &RunFiguresCard::changed, this, [this] {
        say({});
        reckoner_->reforecast(card_->rates(), card_->units());
        refresh();
        emit figures_changed();
    });
    connect(card_, &RunFiguresCard::told, this, &RunDialog::say);
    connect(card_, &RunFiguresCard::failed, this,
            [this](const Error& error) { say(text(error.message) + u' ' + text(error.hint)); });
    connect(new QShortcut(QKeySequence::Undo, this), &QShortcut::activated, &session_.history(), &QUndoStack::undo);
    connect(new QShortcut(QKeySequence::Redo, this), &QShortcut::activated, &session_.history(), &QUndoStack::redo);
    reckoner_->reforecast(card_->rates(), card_->units());
    refresh();
}

void RunDialog::build() {
    left_->setFixedWidth(left_width);
    const auto put = [](CardColumn* column, QWidget* widget) { // before the stretch at its end
        column->cards().insertWidget(column->cards().count() - 1, widget);
    };
    put(left_, card_);

    message_->hide();
    heading_->setFont(strong_font(*heading_));
    heading_->setTextFormat(Qt::PlainText);
    progress_->setTextVisible(false);
    progress_->setRange(0, 100);
    progress_->setAccessibleName(tr("Comparing"));
    auto* head = new QVBoxLayout(compared_head_);
    head->setContentsMargins(0, grid, 0, 0);
    head->setSpacing(grid / 2);
    head->addWidget(heading_);
    head->addWidget(progress_);

    for (QWidget* widget : {static_cast<QWidget*>(message_), static_cast<QWidget*>(grounds_), compared_head_})
        put(right_, widget);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(card_inset);
    layout->addWidget(left_);
    layout->addWidget(right_, 1);
}

void RunDialog::say(const QString& message) {
    message_->setText(message);
    message_->setVisible(!message.isEmpty());
    if (!message.isEmpty()) right_->bring_into_view(message_);
}

void RunDialog::showEvent(QShowEvent* event) {
    QDialog::showEvent(event);
    reckoner_->watch(true);
}

void RunDialog::hideEvent(QHideEvent* event) {
    QDialog::hideEvent(event);
    reckoner_->watch(false);
    session_.hide_ghost();
}

void RunDialog::refresh() {
    card_->set_events_of_mark(pipeline::events_by_name(reckoner_->job(), reckoner_->extras()));
    refresh_marks();
    refresh_alternatives();
}

void RunDialog::refresh_marks() {
    const auto& extras = reckoner_->extras();
    const auto& rates = card_->rates();
    const std::int64_t units = card_->units();
    std::size_t shown = 0;
    const print::Extra sum = pipeline::sum_of(extras);
    const run::Forecast whole = run::forecast(sum, rates, units);
    for (std::size_t i = 0; i < extras.size(); ++i, ++shown) {
        RunMarkCard* card = mark_card(shown);
        const QString name = text(reckoner_->job().marks[i].name);
        if (extras[i].extra)
            card->show_forecast(name, run::forecast(*extras[i].extra, rates, units), rates);
        else
            card->show_trouble(name, extras[i].trouble.value_or(Error{}));
        card->setProperty("mark", text(extras[i].mark));
        card->set_comparable(extras[i].extra.has_value(), tr("Compare"));
        card->show();
    }
    if (extras.size() > 1) {
        RunMarkCard* card = mark_card(shown++);
        card->show_forecast(tr("All marks"), whole, rates);
        card->set_comparable(false, {});
        card->show();
    }
    for (std::size_t i = shown; i < marks_.size(); ++i)
        marks_[i]->hide();
    if (reckoner_->trouble())
        grounds_->setText(text(reckoner_->trouble()->message) + u' ' + text(reckoner_->trouble()->hint));
    else if (extras.empty())
        grounds_->setText(!session_.part()       ? tr("No part is open.")
                          : reckoner_->current() ? tr("The job has no marks: it costs nothing over the plain part.")
                                                 : tr("Laying the layers of the marks …"));
    else
        grounds_->setText(text(run::grounds_text(whole)) +
                          (whole.chance > 0
                               ? u' ' + tr("It takes about %1 units without a reject to show that it is no more.")
                                            .arg(text(run::about_text(run::clean_units_for(whole.chance))))
                               : QString()));
}

void RunDialog::refresh_alternatives() {
    const std::string& mark = reckoner_->compared();
    const job::Mark* named = mark.empty() ? nullptr : session_.job().find(mark);
    compared_head_->setVisible(named != nullptr);
    if (named) heading_->setText(tr("Alternatives to %1").arg(text(named->name)));
    const auto& found = reckoner_->alternatives();
    const bool arrived = progress_->isVisible() && !reckoner_->comparing() && !found.empty();
    progress_->setVisible(reckoner_->comparing());
    progress_->setValue(static_cast<int>(100 * std::max(0.0, reckoner_->fraction())));
    for (std::size_t i = 0; i < found.size(); ++i) {
        AlternativeCard* card = alternative_card(i);
        card->show_alternative(found[i], card_->rates());
        card->setEnabled(!reckoner_->comparing());
        card->show();
    }
    for (std::size_t i = found.size(); i < alternatives_.size(); ++i)
        alternatives_[i]->hide();
    if (arrived && asked_) right_->bring_into_view(alternatives_[std::min<std::size_t>(found.size(), 3) - 1]);
    if (arrived) asked_ = false;
}

RunMarkCard* RunDialog::mark_card(std::size_t at) {
    while (marks_.size() <= at) {
        auto* made = new RunMarkCard(right_);
        connect(made, &RunMarkCard::compare_asked, this, [this, made] {
            asked_ = true;
            reckoner_->compare(made->property("mark").toString().toStdString(), card_->rates(), card_->units());
            right_->bring_into_view(compared_head_);
        });
        right_->cards().insertWidget(right_->cards().indexOf(compared_head_), made);
        marks_.push_back(made);
    }
    return marks_[at];
}

AlternativeCard* RunDialog::alternative_card(std::size_t at) {
    while (alternatives_.size() <= at) {
        auto* made = new AlternativeCard(session_, right_);
        right_->cards().insertWidget(right_->cards().count() - 1, made);
        alternatives_.push_back(made);
    }
    return alternatives_[at];
}

} // namespace touchmark::panels
