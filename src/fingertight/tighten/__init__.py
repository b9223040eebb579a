"""Tightening, on plain numbers and names: no machine is known here.

threads/   a thread by its name, its sizes and holes; which thread a caliper and a pitch gauge mean
spanners/  which spanner, key or screwdriver fits a thread under a head, and which must not be used
torque/    torque and preload, the weakest link, angles, wrenches, slips of the pen
pattern/   in which order and passes a joint is closed evenly
tables/    the published tables behind them, one file a source
"""
