"""The computations of the trade: plain values in, plain values out."""
