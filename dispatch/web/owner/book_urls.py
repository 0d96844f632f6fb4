"""Addresses of the owner's pages of the book: jobs, boats, customers, the walk-round."""

from django.urls import path

from dispatch.web.owner import boats, book, customers, walk_round

urlpatterns = [
    path("book/", book.jobs, name="jobs"),
    path("jobs/<slug:key>/terms/", book.job, name="job-terms"),
    path("jobs/<slug:key>/appointment/", book.appointment, name="job-appointment"),
    path("jobs/<slug:key>/move/", book.move, name="job-move"),
    path("walk-round/", walk_round.walk, name="walk-round"),
    path("customers/", customers.overview, name="customers"),
    path("customers/new/", customers.new, name="customer-new"),
    path("customers/<int:pk>/", customers.one, name="customer"),
    path("boats/", boats.overview, name="boats"),
    path("boats/new/", boats.new, name="boat-new"),
    path("boats/<slug:key>/card/", boats.card, name="boat-card"),
    path("boats/<slug:key>/photos/", boats.photo_add, name="boat-photos"),
    path("photos/<int:pk>/", boats.photo, name="photo"),
    path("photos/<int:pk>/remove/", boats.photo_remove, name="photo-remove"),
]
