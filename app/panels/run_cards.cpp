// SPDX-License-Identifier: MIT
#include "app/panels/run_cards.h"

#include "app/panels/severity_mark.h"
#include "core/run/sentences.h"

#include <QEvent>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QPushButton>
#include <QVBoxLayout>

namespace touchmark::panels {
namespace {

constexpr int figure_width = 120;

QString verdict_words(const pipeline::Alternative& alternative) {
    using Verdict = print::Verdict;
    if (alternative.verdict == Verdict::reads) return QObject::tr("Comes out clean in the simulated print");
    const QString share = QString::number(std::lround(100 * alternative.figure));
    const QString what = alternative.worst_piece.empty()
                             ? QObject::tr("%1 % of it right").arg(share)
                             : QObject::tr("'%1' %2 % there").arg(text(alternative.worst_piece), share);
    return (alternative.verdict == Verdict::lost ? QObject::tr("Lost in the simulated print: %1")
                                                 : QObject::tr("At risk in the simulated print: %1"))
        .arg(what);
}

QLabel* figure_label(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setFont(figures_font(label->font()));
    label->setAlignment(Qt::AlignRight | Qt::AlignTop);
    label->setFixedWidth(figure_width);
    label->setTextFormat(Qt::PlainText);
    return label;
}

} // namespace

RunMarkCard::RunMarkCard(QWidget* parent)
    : Card(parent), name_(new QLabel(this)), rejects_(wrapping_label(this)), more_(wrapping_label(this)),
      shares_(wrapping_label(this)), compare_(new QPushButton(this)) {
    setFocusPolicy(Qt::NoFocus);
    name_->setFont(strong_font(*name_));
    name_->setTextFormat(Qt::PlainText);
    make_quiet(*shares_);
    compare_->setAutoDefault(false);
    compare_->setToolTip(tr("Holds this mark against itself made other ways and on other faces"));
    connect(compare_, &QPushButton::clicked, this, &RunMarkCard::compare_asked);
    auto* head = new QHBoxLayout;
    head->addWidget(name_, 1);
    head->addWidget(compare_);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid / 2);
    layout->addLayout(head);
    layout->addWidget(rejects_);
    layout->addWidget(more_);
    layout->addWidget(shares_);
    set_comparable(false, {});
}

void RunMarkCard::show_forecast(const QString& name, const run::Forecast& forecast, const run::Rates& rates) {
    name_->setText(name);
    rejects_->setText(text(run::rejects_text(forecast)) + u'.');
    QString more = tr("%1 longer a unit, %2 over the run.")
                       .arg(text(run::time_text(forecast.seconds)), text(run::time_text(3600 * forecast.hours)));
    if (const auto cost = forecast.cost())
        more += u' ' + tr("Costs %1.").arg(text(run::money_text(*cost, rates.costs)));
    more_->setText(more);
    QStringList shares;
    for (const run::Share& share : forecast.shares)
        shares += text(run::share_text(share));
    shares_->setText(shares.join(QStringLiteral("  ·  ")));
    shares_->setVisible(!shares.isEmpty());
    more_->show();
    setAccessibleName(tr("%1: %2").arg(name, rejects_->text()));
}

void RunMarkCard::show_trouble(const QString& name, const Error& error) {
    name_->setText(name);
    rejects_->setText(text(error.message));
    more_->hide();
    shares_->hide();
    setAccessibleName(tr("%1: %2").arg(name, rejects_->text()));
}

void RunMarkCard::set_comparable(bool comparable, const QString& title) {
    compare_->setVisible(comparable);
    compare_->setText(title);
    compare_->setAccessibleName(tr("%1: %2").arg(title, name_->text()));
}

AlternativeCard::AlternativeCard(session::Session& session, QWidget* parent)
    : Card(parent), session_(session), name_(wrapping_label(this)), verdict_(wrapping_label(this)),
      finding_(wrapping_label(this)), rejects_(figure_label(this)), time_(figure_label(this)),
      money_(figure_label(this)), severity_(new SeverityMark(this)), use_(new QPushButton(tr("Use this"), this)) {
    setFocusPolicy(Qt::NoFocus);
    name_->setFont(strong_font(*name_));
    make_quiet(*verdict_);
    make_quiet(*finding_);
    severity_->setFont(small_font(*severity_));
    use_->setAutoDefault(false);
    use_->setToolTip(tr("Makes this change; undo takes it back"));
    use_->installEventFilter(this);
    connect(use_, &QPushButton::clicked, this, [this] {
        const job::Edit edit = edit_; // the change replaces what is shown
        session_.hide_ghost();
        (void)session_.edit(title_, edit);
    });
    auto* layout = new QGridLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setHorizontalSpacing(grid);
    layout->setVerticalSpacing(grid / 2);
    layout->setColumnStretch(0, 1);
    layout->addWidget(name_, 0, 0, Qt::AlignTop);
    layout->addWidget(rejects_, 0, 1, Qt::AlignTop);
    layout->addWidget(time_, 0, 2, Qt::AlignTop);
    layout->addWidget(money_, 0, 3, Qt::AlignTop);
    layout->addWidget(verdict_, 1, 0, 1, 3);
    layout->addWidget(severity_, 2, 0, 1, 3);
    layout->addWidget(finding_, 3, 0, 1, 3);
    layout->addWidget(use_, 1, 3, 3, 1, Qt::AlignRight | Qt::AlignBottom);
}

void AlternativeCard::show_alternative(const pipeline::Alternative& alternative, const run::Rates& rates) {
    edit_ = alternative.edit;
    const QString how = text(alternative.title);
    name_->setText(alternative.as_it_is ? tr("%1 – as it is").arg(how) : how);
    title_ = tr("Make it: %1").arg(how);
    set_selected(alternative.as_it_is);
    use_->setVisible(!alternative.as_it_is);
    use_->setAccessibleName(tr("Use this: %1").arg(how));
    severity_->setVisible(alternative.severity.has_value());
    finding_->setVisible(alternative.severity.has_value());
    if (alternative.severity) {
        severity_->set(alternative.severity);
        finding_->setText(text(alternative.finding));
    }
    const bool printed = !alternative.trouble;
    verdict_->setText(printed ? verdict_words(alternative) : text(alternative.trouble->message));
    for (QLabel* figure : {rejects_, time_, money_})
        figure->setVisible(printed);
    if (!printed) return;
    const run::Forecast& forecast = alternative.forecast;
    rejects_->setText(tr("%1 rejects\n%2 to %3 in 95 %")
                          .arg(text(run::count_text(forecast.rejects)),
                               text(run::count_text(forecast.rejects_interval.low)),
                               text(run::count_text(forecast.rejects_interval.high))));
    time_->setText(text(run::time_text(forecast.seconds)) + u'\n' + tr("longer a unit"));
    const auto cost = forecast.cost();
    money_->setText(cost ? text(run::money_text(*cost, rates.costs)) : QString());
    setAccessibleName(tr("%1: %2, %3").arg(how, rejects_->text(), time_->text()).replace(u'\n', u' '));
}

bool AlternativeCard::eventFilter(QObject* watched, QEvent* event) {
    if (watched == use_) {
        if (event->type() == QEvent::Enter || event->type() == QEvent::FocusIn) session_.show_ghost(edit_);
        if (event->type() == QEvent::Leave || event->type() == QEvent::FocusOut || event->type() == QEvent::Hide)
            session_.hide_ghost();
    }
    return Card::eventFilter(watched, event);
}

} // namespace touchmark::panels
