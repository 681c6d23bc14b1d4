"""The exchange: changes in and out, whatever the network does."""
