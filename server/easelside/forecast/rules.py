"""What joins the rooms over weeks, by the names that other programs call it."""

from easelside.forecast.capability import Capability as Capability
from easelside.forecast.capability import capability as capability
from easelside.forecast.charts import ControlFactors as ControlFactors
from easelside.forecast.charts import control_factors as control_factors
from easelside.forecast.charts import cusum as cusum
from easelside.forecast.charts import ewma as ewma
from easelside.forecast.charts import individuals_limits as individuals_limits
from easelside.forecast.charts import mean_range_limits as mean_range_limits
from easelside.forecast.charts import proportion_limits as proportion_limits
from easelside.forecast.charts import run_rules as run_rules
from easelside.forecast.run_lengths import cusum_run_length as cusum_run_length
from easelside.forecast.run_lengths import ewma_run_length as ewma_run_length
from easelside.forecast.run_lengths import run_rules_run_length as run_rules_run_length
from easelside.forecast.shares import Interval as Interval
from easelside.forecast.shares import clopper_pearson as clopper_pearson
from easelside.forecast.shares import jeffreys as jeffreys
from easelside.forecast.shares import wilson as wilson
from easelside.forecast.yields import pieces_to_start as pieces_to_start
