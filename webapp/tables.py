"""Every table of every room, for migrations and tests."""

from webapp.backups import models as backups
from webapp.builds import models as builds
from webapp.costs import models as costs
from webapp.db import mark, receipt
from webapp.db.base import Base
from webapp.journal import models as journal
from webapp.moisture import models as moisture
from webapp.people import models as people
from webapp.photos import models as photos
from webapp.products import models as products
from webapp.shops import models as shops
from webapp.stock import models as stock

ROOMS = (people, shops, products, builds, journal, photos, stock, moisture, costs, receipt, mark, backups)
metadata = Base.metadata
