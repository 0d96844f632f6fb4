"""Addresses of the owner's pages of lists, history and pay."""

from django.urls import path, register_converter

from dispatch.web.owner import ahead, first_run, history, lists, money, pay


class Money:
    """What is put down of a job's money."""

    regex = "extra|payment|invoice"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(Money, "money")

urlpatterns = [
    path("start/", first_run.begin, name="begin"),
    path("start/sample/", first_run.sample, name="begin-sample"),
    path("start/steps/", first_run.steps, name="steps"),
    path("start/sky/", first_run.sky, name="begin-sky"),
    path("ahead/", ahead.overview, name="ahead"),
    path("ahead/again/new/", ahead.new, name="recurring-new"),
    path("ahead/again/<int:pk>/stop/", ahead.stop, name="recurring-stop"),
    path("money/", money.overview, name="money"),
    path("money/invoices/out/", money.out, name="invoices-out"),
    path("money/invoices/<slug:number>.pdf", money.pdf, name="invoice-pdf"),
    path("jobs/<slug:key>/money/", money.one, name="job-money"),
    path("jobs/<slug:key>/money/<money:what>/", money.add, name="money-add"),
    path(
        "jobs/<slug:key>/money/<money:what>/<int:pk>/out/",
        money.remove,
        name="money-remove",
    ),
    path("history/", history.history, name="history"),
    path("pay/", pay.hours, name="pay"),
    path("pay/<iso-date:starts_on>/", pay.hours, name="pay-of"),
    path("pay/<iso-date:starts_on>/out/", pay.hours_out, name="pay-out"),
    path("minutes/", pay.minutes, name="minutes"),
    path("lists/", lists.overview, name="lists"),
    path("lists/<slug:key>/", lists.bring_in, name="list-in"),
    path("lists/<slug:key>/out/", lists.out, name="list-out"),
]
